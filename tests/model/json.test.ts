/** The JSON reader against the one that is built in, which RFC 8259 readers must agree with on every valid text. */

import { describe, expect, it } from 'vitest'
import { pathText } from '../../footprints/problems.ts'
import { lineAndColumn, locate, parseJson } from '../../src/model/json.ts'
import fc from '../seeded.ts'

/** Without a name that stands twice, which JSON.parse cannot tell. */
const read = (text: string): { value: unknown } | 'refused' => {
  const { value, issues } = parseJson(text)
  return issues.length > 0 ? 'refused' : { value }
}
const builtIn = (text: string): { value: unknown } | 'refused' => {
  try {
    return { value: JSON.parse(text) }
  } catch {
    return 'refused'
  }
}
/** −0 reads as 0, by intent. */
const plain = (v: unknown): unknown => JSON.parse(JSON.stringify(v))

describe('the JSON reader', () => {
  it('reads what is valid like the built-in one, however it is spaced', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 5 }), fc.constantFrom(undefined, 1, '\t', ' \r\n'), (value, space) => {
        const text = JSON.stringify(value, null, space as number).replaceAll('\n', '\r\n')
        const mine = read(text)
        expect(mine).toEqual({ value: plain(value) })
      }),
      { numRuns: 2000 },
    )
  })

  it('refuses what the built-in one refuses, and nothing else but deep levels and names that stand twice', () => {
    const mutation = fc.record({
      at: fc.nat(),
      cut: fc.nat(3),
      put: fc.string({ maxLength: 2, unit: fc.constantFrom(...'{}[]",:0-.eE+1tn\\u \n\u0001') }),
    })
    fc.assert(
      fc.property(
        fc.jsonValue({ maxDepth: 3 }),
        fc.array(mutation, { minLength: 1, maxLength: 3 }),
        (value, mutations) => {
          let text = JSON.stringify(value)
          for (const m of mutations) {
            const at = m.at % (text.length + 1)
            text = text.slice(0, at) + m.put + text.slice(at + m.cut)
          }
          const right = builtIn(text)
          const mine = parseJson(text)
          if (mine.issues.some((i) => i.found === 'the same field again')) return
          if (right === 'refused') expect(mine.issues.length).toBe(1)
          else {
            expect(mine.issues).toEqual([])
            expect(plain(mine.value)).toEqual(plain(right.value))
          }
        },
      ),
      { numRuns: 5000 },
    )
  })

  it('takes 64 levels and refuses 65', () => {
    const nested = (n: number) => '['.repeat(n) + ']'.repeat(n)
    expect(parseJson(nested(64)).issues).toEqual([])
    expect(parseJson(nested(65)).issues).toMatchObject([{ offset: 64 }])
    expect(parseJson(`${'{"a":'.repeat(64)}1${'}'.repeat(64)}`).issues).toEqual([])
    expect(parseJson(`${'{"a":'.repeat(65)}1${'}'.repeat(65)}`).issues.length).toBe(1)
  })

  it('keeps names that objects are born with', () => {
    const text = '{"__proto__": {"a": 1}, "constructor": 2, "toString": null}'
    const value = parseJson(text).value as object
    expect(Object.keys(value)).toEqual(['__proto__', 'constructor', 'toString'])
    expect(JSON.stringify(value)).toBe(JSON.stringify(JSON.parse(text)))
    expect(parseJson('{"__proto__": 1, "__proto__": 2}').issues.map((i) => pathText(i.path))).toEqual(['__proto__'])
  })

  it('finds where each field stands', () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 4 }), (value) => {
        const text = JSON.stringify(value, null, 2)
        const paths: (string | number)[][] = []
        const values: unknown[] = []
        const visit = (v: unknown, path: (string | number)[]): void => {
          paths.push(path)
          values.push(v)
          if (Array.isArray(v)) for (const [i, e] of v.entries()) visit(e, [...path, i])
          else if (typeof v === 'object' && v !== null) for (const [k, e] of Object.entries(v)) visit(e, [...path, k])
        }
        visit(JSON.parse(text), [])
        locate(text, paths).forEach((offset, i) => {
          // The text from there on begins with the value, written at some depth.
          const depth = paths[i]!.length
          const written = JSON.stringify(values[i], null, 2).replaceAll('\n', `\n${'  '.repeat(depth)}`)
          expect(text.slice(offset, offset + written.length)).toBe(written)
        })
      }),
      { numRuns: 500 },
    )
  })

  it('points at the holder of a field that is missing', () => {
    const text = '{"a": [1, {"b": 2}]}'
    expect(locate(text, [['a', 1, 'c'], ['a', 5], ['x', 'y', 0], []])).toEqual([10, 6, 0, 0])
  })

  it('counts lines and columns from 1', () => {
    const at = lineAndColumn('ab\ncd\r\n\nx')
    expect([0, 2, 3, 4, 7, 8].map(at)).toEqual([
      { line: 1, column: 1 },
      { line: 1, column: 3 },
      { line: 2, column: 1 },
      { line: 2, column: 2 },
      { line: 3, column: 1 },
      { line: 4, column: 1 },
    ])
  })
})
