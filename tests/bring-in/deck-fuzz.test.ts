/** Readers under random damage: an answer of the known form each time, soon, and no memory without end. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { bringInDeck } from '../../src/bring-in/index.ts'
import { dxf } from '../../src/export/dxf.ts'
import { svg, template } from '../../src/export/index.ts'
import { toProblem } from '../../src/model/index.ts'
import fc from '../seeded.ts'
import { LONG, randomDeck } from './deck-kit.ts'

const seeds = (): { damaged: string[]; whole: string[] } => {
  const folder = join(import.meta.dirname, '../fixtures/bring-in/damaged')
  const damaged = readdirSync(folder)
    .filter((f) => /\.(dxf|svg)$/.test(f) && !/billion|without-end/.test(f))
    .map((f) => readFileSync(join(folder, f), 'utf8'))
  const whole = [1, 3].flatMap((seed) => {
    const project = {
      format: 'deckwright-project',
      version: 1,
      units: 'mm',
      name: 'f',
      decks: [randomDeck(seed)],
      items: [],
    }
    const drawing = template(toProblem(project as Parameters<typeof toProblem>[0], 'base', new Map()), [], 0)
    return [dxf(drawing), svg(drawing)]
  })
  return { damaged, whole }
}

const PIECES = [
  '0',
  '-1',
  '1e308',
  '1e-320',
  'NaN',
  '<g>',
  '</g>',
  'INSERT',
  'SPLINE',
  '\n0\nEOF\n',
  'M',
  'z',
  'a1 1 0 1 1 ',
  '"',
  '&amp;',
  '\0',
  '١',
]

/** One change to a text: a part gone, doubled, moved, or something put in. */
const change = fc.record({
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  long: fc.integer({ min: 0, max: 60 }),
  kind: fc.constantFrom('drop', 'double', 'put', 'digit', 'end'),
  piece: fc.oneof(fc.constantFrom(...PIECES), fc.string({ maxLength: 8 })),
})

function changed(text: string, c: { at: number; long: number; kind: string; piece: string }): string {
  const at = Math.floor(c.at * text.length)
  const part = text.slice(at, at + c.long)
  if (c.kind === 'drop') return text.slice(0, at) + text.slice(at + c.long)
  if (c.kind === 'double') return text.slice(0, at) + part + text.slice(at)
  if (c.kind === 'put') return text.slice(0, at) + c.piece + text.slice(at)
  if (c.kind === 'end') return text.slice(0, at)
  return text.slice(0, at) + part.replace(/\d/g, String(c.long % 10)) + text.slice(at + c.long)
}

describe('damaged at random', () => {
  it('drawings are answered, every time and soon', () => {
    const { damaged, whole } = seeds()
    const texts = fc.oneof(fc.constantFrom(...damaged), fc.constantFrom(...whole))
    let taken = 0
    fc.assert(
      fc.property(texts, fc.array(change, { minLength: 1, maxLength: 4 }), (text, changes) => {
        const start = process.cpuUsage().user
        const got = bringInDeck(changes.reduce(changed, text), 'fuzz')
        expect((process.cpuUsage().user - start) / 1000).toBeLessThan(5000)
        if (got.ok) {
          taken += 1
          expect(got.decks.length).toBeGreaterThan(0)
          expect(JSON.stringify(got.decks)).not.toMatch(/null/)
        } else {
          expect(got.problems.length).toBeGreaterThan(0)
          for (const p of got.problems) expect(p.found.length * p.expected.length).toBeGreaterThan(0)
        }
      }),
      { numRuns: LONG ? 50_000 : 800, seed: 5 },
    )
    // Damage that spares the geometry must not be all that is refused.
    expect(taken).toBeGreaterThan(10)
    expect(process.memoryUsage().heapUsed).toBeLessThan(1.5e9)
  })

  it('bytes of any kind are answered', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        expect(bringInDeck(bytes, 'bytes').ok).toBe(false)
      }),
      { numRuns: LONG ? 5000 : 200, seed: 6 },
    )
  })
})

const file = (entities: string): string =>
  `0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n${entities}0\nENDSEC\n0\nEOF\n`

describe('large drawings', () => {
  it(`of ${LONG ? 9.9 : 0.5} MB are read in seconds, all of their openings`, () => {
    const parts = [
      '0\nLWPOLYLINE\n8\n0\n90\n4\n70\n1\n10\n0\n20\n0\n10\n2000\n20\n0\n10\n2000\n20\n2000\n10\n0\n20\n2000\n',
    ]
    let [long, squares] = [0, 0]
    const line = (a: number, b: number, c: number, d: number): string =>
      `0\nLINE\n8\n0\n10\n${a}\n20\n${b}\n11\n${c}\n21\n${d}\n`
    for (; long < (LONG ? 9.9e6 : 0.5e6); squares++) {
      const [x, y] = [(squares % 300) * 6 + 1, Math.floor(squares / 300) * 6 + 1]
      const four =
        line(x, y, x + 3, y) + line(x + 3, y, x + 3, y + 3) + line(x + 3, y + 3, x, y + 3) + line(x, y + 3, x, y)
      long += four.length
      parts.push(four)
    }
    const most = LONG ? 15 : 5
    let seconds = Number.POSITIVE_INFINITY
    // once more where other work got in the way
    for (let k = 0; k < 2 && seconds >= most; k++) {
      const start = process.cpuUsage().user
      const got = bringInDeck(file(parts.join('')), 'large.dxf')
      seconds = (process.cpuUsage().user - start) / 1e6
      expect(got.ok && got.decks[0]!.openings?.length).toBe(squares)
    }
    expect(seconds).toBeLessThan(most)
    if (LONG)
      console.log(`${squares} squares of loose lines, ${Math.round(long / 1e6)} MB: ${seconds.toFixed(1)} s of CPU`)
  })

  const said = (text: string): string => {
    const got = bringInDeck(text, 'over')
    return got.ok ? '' : got.problems[0]!.found
  }

  it('over the bounds are refused in words', () => {
    expect(said(' '.repeat(10_000_001))).toContain('10000001 bytes')
    const fan = Array.from(
      { length: 200 },
      (_, i) => `0\nLINE\n8\n0\n10\n${(i % 14) / 200}\n20\n${Math.floor(i / 14) / 200}\n11\n${i}\n21\n9\n`,
    ).join('')
    expect(said(file(fan))).toContain('loose line ends around')
  })

  // the short run has one such count, the holes of `board-fuzz.test.ts`
  it.runIf(LONG)('of more than a million curves, or half a million elements, are refused in words', () => {
    const curves = 'c9 0 9 9 0 9'.repeat(120_000)
    const page = (body: string): string =>
      `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">${body}</svg>`
    expect(said(page(`<path d="M0 0${curves}"/>`))).toContain('more than 1000000 lines and arcs')
    expect(said(page('<g/>'.repeat(500_001)))).toContain('more than 500000 elements')
  })
})
