/** The bounds of contract §1, and files made to hurt: each refused in under 5 s (contract §7), with what is wrong. */
import { describe, expect, it } from 'vitest'
import { formatProblem, readLayout, readProject, toProblem } from '../../src/model/index.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const none = new Map()
const part = '{"id":"f","body":{"width":1,"depth":1,"height":1},"mount":{"kind":"adhesive"}}'
const start = `{"format":"deckwright-project","version":1,"units":"mm","name":"x","footprints":[${part}],`
const deck = (outline: string) => `"decks":[{"id":"d","z":0,"thickness":3,"outline":${outline}}]`
const square = deck('{"rect":[0,0,100,100]}')
const many = (n: number, entry: (i: number) => string) => Array.from({ length: n }, (_, i) => entry(i)).join(',')
const items = (n: number) => many(n, (i) => `{"id":"i${i}","footprint":"f"}`)

/** Milliseconds of work; the machine that tests may be busy with other things, so not by the clock. */
const QUICK = 4500

function timed(text: string | Uint8Array): { problems: string[]; ok: boolean; warnings: number } {
  const from = process.cpuUsage()
  const r = readProject(text, 'f', none)
  const { user, system } = process.cpuUsage(from)
  expect((user + system) / 1000).toBeLessThan(QUICK)
  return { ok: r.ok, problems: r.ok ? [] : r.problems.map(formatProblem), warnings: r.warnings.length }
}

describe('bounds', () => {
  const padded = (bytes: number, letter = ' ') => {
    const text = `${start}${square},"items":[]}`
    return text + letter.repeat(bytes - text.length)
  }

  it('take 10 MB and refuse a byte more, as text and as bytes', () => {
    expect(timed(padded(10_000_000)).ok).toBe(true)
    expect(timed(padded(10_000_001)).problems).toEqual([
      'f: found 10000001 bytes or more, expected at most 10000000 bytes (10 MB)',
    ])
    expect(timed(new TextEncoder().encode(padded(10_000_000))).ok).toBe(true)
    expect(timed(new TextEncoder().encode(padded(10_000_001))).ok).toBe(false)
    // Five million letters of two bytes each and the rest.
    expect(timed(padded(6_000_000).replace('"x"', `"${'é'.repeat(5_000_000)}"`)).problems[0]).toContain(
      'expected at most',
    )
    const r = readLayout(' '.repeat(10_000_001), 'l')
    expect(r.ok).toBe(false)
  })

  it('take 64 levels and refuse 65, in a field that the format does not know', () => {
    const deep = (n: number) => `${start}${square},"items":[],"x":${'['.repeat(n)}${']'.repeat(n)}}`
    expect(timed(deep(63)).ok).toBe(true)
    expect(timed(deep(64)).problems[0]).toContain('expected at most 64 levels')
  })

  it('take 500 bodies and refuse 501', () => {
    const bodies = (n: number) =>
      `${start}${square},"items":[${items(300)},{"id":"c","footprint":"f","count":${n - 310}},${many(10, (i) => `{"id":"j${i}","footprint":"f"}`)}]}`
    const r = readProject(bodies(500), 'f', none)
    expect(r.ok && toProblem(r.value, 'base', none).items.length).toBe(500)
    expect(timed(bodies(501)).problems).toEqual([
      expect.stringMatching(/^f:.*: items: found 501 bodies, expected at most 500 in all$/),
    ])
  })

  it.each([
    ['count', 1, 200, 0, 201],
    ['stack', 0, 10000, -0.001, 10000.001],
  ])('of %s', (field, lo, hi, under, over) => {
    const text = (v: number) => `${start}${square},"items":[{"id":"a","footprint":"f","${field}":${v}}]}`
    for (const v of [lo, hi]) expect(timed(text(v)).ok).toBe(true)
    for (const v of [under, over]) expect(timed(text(v)).ok).toBe(false)
  })

  it.each([
    [0.001, true],
    [0.0009, false],
    [10000, true],
    [10000.1, false],
    [0, false],
  ])('of grid and sizes: %d', (v, ok) => {
    expect(timed(`${start}${square},"items":[],"settings":{"grid":${v}}}`).ok).toBe(ok)
    expect(timed(`${start}${deck(`{"rect":[0,0,${v},5]}`)},"items":[]}`).ok).toBe(ok)
    expect(timed(`${start}${deck(`{"circle":[0,0,${v}]}`)},"items":[]}`).ok).toBe(ok)
    expect(timed(`${start}${square.replace('"thickness":3', `"thickness":${v}`)},"items":[]}`).ok).toBe(ok)
  })
})

/** How many of what there may be any number of: a file is large enough to hurt where work grows with the square, and larger in the long run. */
const large = (n: number): number => (LONG ? n : n / 8)

/** Every other file in each run, all in the long one. */
const some = (files: [string, () => string, RegExp][]) => files.filter((_, k) => LONG || k % 2 === 1)

describe('files made to hurt', () => {
  const zigzag = () => deck(`{"polygon":[${many(300_000, (i) => `[${i % 2 === 0 ? 1000 : 0},${i / 100}]`)}]}`)
  const circle = () =>
    deck(
      `{"polygon":[${many(100_000, (i) => {
        const a = (i / 50_000) * Math.PI
        return `[${(9000 * Math.cos(a)).toFixed(4)},${(9000 * Math.sin(a)).toFixed(4)}]`
      })}]}`,
    )
  // Long horizontal teeth: every pair must be looked at, and none cross.
  const comb = () =>
    deck(
      `{"polygon":[${many(60_000, (i) => {
        const tooth = Math.floor(i / 4)
        const [x, y] = [
          [0, 0],
          [1000, 0],
          [1000, 1],
          [1, 1],
        ][i % 4]!
        return `[${x},${(tooth * 2 + y!) / 10}]`
      })},[-1,3000],[-1,0]]}`,
    )
  const project = (rest: string, outline = square) => `${start}${outline},${rest}}`

  it.each(
    some([
      ['five million values', () => project(`"items":[${'1,'.repeat(4_900_000)}1]`), /at most 1000000 values/],
      [
        'a list of 900000 wrong entries',
        () => project(`"items":[${'1,'.repeat(899_999)}1]`),
        /items\[0\]: found 1, expected an object/,
      ],
      [
        '450000 wrong objects',
        () => project(`"items":[${'{"a":1},'.repeat(449_999)}{}]`),
        /items\[0\].id: found nothing/,
      ],
      [
        `${large(200_000)} good items`,
        () => project(`"items":[${items(large(200_000))}]`),
        RegExp(`${large(200_000)} bodies`),
      ],
      [
        '100000 wires from nowhere',
        () =>
          project(
            `"items":[],"wires":[${many(100_000, (i) => `{"id":"w${i}","from":{"exit":"a"},"to":{"exit":"b"}}`)}]`,
          ),
        /wires\[0\].from.exit/,
      ],
      ['five million brackets', () => project(`"items":${'['.repeat(5_000_000)}`), /at most 64 levels/],
      ['a contour that crosses itself all over', () => project('"items":[]', zigzag()), /a simple contour/],
      [
        'ids of four million letters',
        () => project(`"items":[{"id":"${'x'.repeat(4e6)}","footprint":"${'y'.repeat(4e6)}"}]`),
        /found "y{20,}…, expected "f"/,
      ],
      [
        'one item with 900000 decks',
        () => project(`"items":[{"id":"a","footprint":"f","decks":[${'"q",'.repeat(899_999)}"q"]}]`),
        /items\[0\].decks\[0\]: found "q", expected "d"/,
      ],
      [
        '100000 variants of 500 items',
        () => project(`"items":[${items(500)}],"variants":[${many(100_000, (i) => `{"id":"v${i}"}`)}]`),
        /variants: found 100000 variants, expected at most/,
      ],
      [
        '300000 variants of nothing',
        () => project(`"items":[],"variants":[${many(300_000, (i) => `{"id":"v${i}"}`)}]`),
        /variants: found 300000 variants, expected at most/,
      ],
      [
        `one id ${large(190_000)} times`,
        () => project(`"items":[${many(large(190_000), () => '{"id":"i","footprint":"f"}')}]`),
        /items\[1\].id: found "i", expected an id of its own/,
      ],
      [
        'a variant with 300000 wrong patches',
        () => project(`"items":[],"variants":[{"id":"v","items":{${many(300_000, (i) => `"a${i}":1`)}}}]`),
        /variants\[0\].items.a0: found 1, expected an object/,
      ],
      [
        `the same field ${large(400_000)} times`,
        () => project(`"items":[],${'"x":1,'.repeat(large(400_000) - 1)}"x":1`),
        /x: found the same field again/,
      ],
    ]),
  )('%s', (_, text, right) => {
    const r = timed(text())
    expect(r.ok).toBe(false)
    expect(r.problems[0]).toMatch(right)
    expect(r.problems.length).toBeLessThanOrEqual(1002)
  })

  it('reads a contour of 100000 corners', () =>
    expect(timed(project('"items":[]', circle()))).toMatchObject({ ok: true, warnings: 0 }))

  it('reads a comb too fine to be checked, and says that it was not', () => {
    const r = timed(project('"items":[]', comb()))
    expect(r).toMatchObject({ ok: true, warnings: 1 })
  })

  it(`names a thousand unknown fields of ${large(400_000)} and goes on`, () => {
    const r = timed(project(`"items":[],${many(large(400_000), (i) => `"k${i}":1`)}`))
    expect(r).toMatchObject({ ok: true, warnings: 1000 })
  })

  // A variant is a copy of what it asks: not of what means nothing.
  const variants = `"variants":[${many(200, (i) => `{"id":"v${i}"}`)}]`
  const unknown = many(large(300_000), (i) => `"k${i}":1`)
  it.each(
    [
      ['the project', project(`"items":[],${variants},${unknown}`)],
      ['a deck', project(`"items":[],${variants}`, square.replace('"z":0', `"z":0,${unknown}`))],
      ['an item', project(`"items":[{"id":"a","footprint":"f",${unknown}}],${variants}`)],
    ].slice(0, LONG ? 3 : 1),
  )(`reads ${large(300_000)} unknown fields of %s and 200 variants`, (_, text) =>
    expect(timed(text)).toMatchObject({ ok: true, warnings: 1000 }),
  )

  it(`reads ${large(800_000)} unknown fields and what is wrong beside them`, () => {
    const r = timed(`{${many(large(800_000), (i) => `"k${i}":1`)}}`)
    expect(r.problems.length).toBe(6)
  })
})
