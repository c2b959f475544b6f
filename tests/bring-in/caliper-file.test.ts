import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readFootprintValue } from '../../footprints/schema.ts'
import { caliper } from '../../src/bring-in/caliper.ts'
import { type MeasuresFile, readMeasures } from '../../src/bring-in/caliper-file.ts'
import { bringInMeasures, caliperText, madeOf, measuresOf } from '../../src/bring-in/caliper-result.ts'
import { readProject } from '../../src/model/project.ts'
import fc from '../seeded.ts'
import { fitOf } from './caliper-kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'
const text = readFileSync(new URL('../fixtures/bring-in/measures/plate.json', import.meta.url), 'utf8')
const read = (source: string) => {
  const r = readMeasures(source, 'plate.json')
  if (!r.ok) throw new Error(JSON.stringify(r.problems))
  return r.value
}
const changed = (edit: (file: MeasuresFile & Record<string, unknown>) => void) => {
  const file = JSON.parse(text) as MeasuresFile & Record<string, unknown>
  edit(file)
  return JSON.stringify(file)
}
const problems = (edit: Parameters<typeof changed>[0]) => {
  const r = readMeasures(changed(edit), 'plate.json')
  return r.ok ? [] : r.problems.map((p) => `${p.path}: found ${p.found}, expected ${p.expected}`)
}

describe('a measures file', () => {
  it('becomes a deck that a project takes', () => {
    const file = read(text)
    const fit = fitOf(caliper(measuresOf(file)))
    const made = madeOf(file.gives, fit)
    if (made.kind !== 'deck') throw new Error(made.kind)
    // The invented plate: 140 × 90, posts 3.2 wide at (10, 12) and (130, 12), cable hole at (70, 62); read to some 0.05.
    const near = (v: number, truth: number) => expect(Math.abs(v - truth)).toBeLessThan(0.1)
    const [one, two, cable] = made.deck.holes ?? []
    for (const [hole, [x, y]] of [
      [one, [10, 12]],
      [two, [130, 12]],
      [cable, [70, 62]],
    ] as const) {
      near(hole!.at[0], x)
      near(hole!.at[1], y)
    }
    near(one!.diameter, 3.2)
    expect(made.deck).toMatchObject({ id: 'lower', z: 42, thickness: 3, material: 'acrylic' })
    const project = { format: 'deckwright-project', version: 1, units: 'mm', name: 'p', decks: [made.deck], items: [] }
    expect(readProject(JSON.stringify(project), 'p', new Map())).toMatchObject({ ok: true, warnings: [] })
    expect(caliperText({ status: 'fitted', fit })[0]).toMatch(
      /^width 14[\d.]+ ± 0\.\d+ mm, depth (90|89)[\d.]* ± 0\.\d+ mm$/,
    )
  })

  it('becomes a footprint', () => {
    const file = read(changed((f) => Object.assign(f, { gives: { kind: 'footprint', id: 'relay', height: 15 } })))
    const made = madeOf(file.gives, fitOf(caliper(measuresOf(file))))
    if (made.kind !== 'footprint') throw new Error(made.kind)
    expect(readFootprintValue(made.footprint, 'f')).toMatchObject({ ok: true, warnings: [] })
    expect(made.footprint).toMatchObject({ id: 'relay', body: { height: 15 }, mount: { kind: 'screw', standoff: 5 } })
  })

  it('names the readings that contradict one another, and is as unsure as they are', () => {
    const lines = (readings: number[]) => {
      const got = bringInMeasures(
        JSON.stringify({
          format: 'deckwright-measures',
          version: 1,
          gives: { kind: 'deck', id: 'lower', z: 42, thickness: 3 },
          holes: [{ id: 'h', diameter: 3.4 }],
          measures: [
            { from: 'left', to: 'right', readings: [165] },
            { from: 'back', to: 'front', readings: [125] },
            { from: 'left', to: 'h', jaws: 'near', readings },
            { from: 'back', to: 'h', jaws: 'near', readings: [30] },
          ],
        }),
        'f',
      )
      if (!got.ok) throw new Error(JSON.stringify(got.problems))
      return got.value.text
    }
    // By hand: mean 25.55, s = 10.9/√2, s/√2 = 5.45, twice that; the caliper's own 0.017 adds nothing to three places.
    expect(lines([20.1, 31])).toEqual(
      expect.arrayContaining([
        expect.stringMatching(/^h: x 27\.25 ± 10\.9, /),
        // 3√2 · 0.05: the difference of two readings scatters √2 times as far as one.
        'the readings 20.1 and 31 of left to h, near contradict one another: they are 10.9 mm apart, and readings of one distance hardly ever more than 0.212; one must be a slip, and they do not say which: measure it again, for nothing is made of it until then',
        expect.stringMatching(/95 of 100 lie within, but not where readings contradict/),
      ]),
    )
    for (const sound of [[20.1], [20.1, 20.3], [20.1, 20, 20.05]])
      expect(lines(sound).join()).not.toContain('contradict')
  })

  it('is refused field by field, all problems at once', () => {
    expect(
      problems((f) => {
        f.measures[0]!.from = 'lefd'
        f.measures[2]!.jaws = 'inner'
        f.measures[1]!.to = 'right'
        f.measures[5]!.jaws = 'far'
        f.measures[6]!.to = 'post-1'
        f.measures[7]!.readings = []
        f.measures[8]!.readings = [-2]
        f.holes![2]!.id = 'left'
      }),
    ).toEqual([
      'holes[2].id: found "left", expected another name: this is an edge or corner',
      expect.stringMatching(/^measures\[0\]\.from: found "lefd", expected one of .* \(did you mean "left"\?\)$/),
      'measures[1].to: found "right", expected the opposite edge: these two meet',
      'measures[2].jaws: found "inner", expected one of "centre", "near", "far"',
      'measures[5].jaws: found "far", expected nothing: a diameter needs none',
      'measures[6].to: found "post-1", expected another end than "from"',
      'measures[7].readings: found [], expected one reading or more, in mm',
      'measures[8].readings[0]: found -2, expected a length in mm from 0.001 to 10000',
      expect.stringMatching(/^measures\[9\]\.to: found "cable"/),
      expect.stringMatching(/^measures\[10\]\.to: found "cable"/),
      expect.stringMatching(/^measures\[11\]\.from: found "cable"/),
    ])
    expect(problems((f) => Object.assign(f, { gives: { kind: 'robot' } }))).toEqual([expect.stringMatching(/^gives/)])
    expect(problems((f) => Object.assign(f, { version: 2 }))).toEqual([expect.stringContaining('newer version')])
    expect(problems((f) => Object.assign(f, { format: 'deckwright-project' }))).toEqual([
      expect.stringContaining('another kind of file'),
    ])
    expect(problems((f) => f.measures.push(...Array.from({ length: 1000 }, () => f.measures[0]!)))).toEqual([
      expect.stringContaining('at most 1000 measures'),
    ])
    expect(readMeasures(text.slice(0, 300), 'plate.json').ok).toBe(false)
  })

  it('whatever it says, the fit ends with one of its three answers', () => {
    const end = fc.constantFrom('left', 'right', 'back', 'front', 'back-left', 'front-right', 'a', 'b', 'c')
    const measure = fc.record(
      {
        from: end,
        to: end,
        jaws: fc.constantFrom('centre', 'near', 'far', 'inner', 'outer'),
        readings: fc.array(fc.double({ min: 0.1, max: 300, noNaN: true }), { minLength: 1, maxLength: 3 }),
      },
      { requiredKeys: ['from', 'readings'] },
    )
    const seen = new Set<string>()
    const sizes = [
      { from: 'left', to: 'right', readings: [200] },
      { from: 'back', to: 'front', readings: [100] },
    ]
    const places = ['a', 'b', 'c'].flatMap((id) => [
      { from: 'left', to: id, readings: [50] },
      { from: 'back', to: id, readings: [30] },
    ])
    fc.assert(
      fc.property(fc.array(measure, { maxLength: 14 }), fc.boolean(), (more, tied) => {
        const holes = [
          { id: 'a', diameter: 3 },
          { id: 'b', diameter: 3 },
          { id: 'c', diameter: 8, near: [20, 20] },
        ]
        const all = [...sizes, ...(tied ? places : []), ...more]
        const r = readMeasures(
          changed((f) => Object.assign(f, { holes, measures: all })),
          'f',
        )
        if (!r.ok) return void seen.add('refused')
        const result = caliper(measuresOf(r.value))
        seen.add(result.status)
        expect(caliperText(result).length).toBeGreaterThan(0)
        if (result.status === 'undetermined') expect(result.loose.length).toBeGreaterThan(0)
        else
          for (const h of result.fit.holes)
            expect([h.x.value, h.y.value, h.x.u, h.y.u].every(Number.isFinite)).toBe(true)
      }),
      { numRuns: LONG ? 3000 : 150 },
    )
    expect([...seen].sort()).toEqual(expect.arrayContaining(['fitted', 'refused', 'undetermined']))
  })

  it('as large as it may be, is fitted in seconds of work', () => {
    const holes = Array.from({ length: LONG ? 50 : 20 }, (_, i) => ({
      id: `h${i}`,
      at: [5 + (i % 10) * 20, 5 + Math.floor(i / 10) * 20] as const,
    }))
    const measures: { from: string; to?: string; readings: number[] }[] = [
      { from: 'left', to: 'right', readings: [200] },
      { from: 'back', to: 'front', readings: [100] },
    ]
    for (const { id, at } of holes)
      measures.push(
        { from: id, readings: [3] },
        { from: 'left', to: id, readings: [at[0]] },
        { from: 'back', to: id, readings: [at[1]] },
      )
    for (const p of holes)
      for (const q of holes)
        if (p.id < q.id && measures.length < 1000)
          measures.push({ from: p.id, to: q.id, readings: [Math.hypot(p.at[0] - q.at[0], p.at[1] - q.at[1])] })
    const before = process.cpuUsage()
    const fit = fitOf(caliper({ holes: holes.map(({ id }) => ({ id })), measures }))
    const { user } = process.cpuUsage(before)
    expect(user / 1e6).toBeLessThan(8)
    expect(fit.holes.at(-1)!.x.value).toBeCloseTo(185, 6)
  })

  it('a slip that nothing localises names all that share it', () => {
    const file = read(changed((f) => Object.assign(f.measures[11]!, { readings: [35] })))
    const result = caliper(measuresOf(file))
    const fit = fitOf(result)
    // The plate's depth closes one chain over both posts and the cable hole: back, posts, cable, front.
    const named = fit.suspects[0]!.map((i) => file.measures[i]!.from + (file.measures[i]!.to ?? ''))
    expect(named).toEqual(['backfront', 'backpost-1', 'backpost-2', 'post-1cable', 'post-2cable', 'cablefront'])
    expect(caliperText(result).join('\n')).toContain('one of these does not fit the others')
  })

  it('gives a deck only where the measures say one thing', () => {
    expect(bringInMeasures(text, 'plate.json')).toMatchObject({
      ok: true,
      value: { result: { status: 'fitted' }, made: { kind: 'deck' } },
    })
    const loose = changed((f) => void f.measures.splice(9, 3))
    expect(bringInMeasures(loose, 'plate.json')).toMatchObject({
      ok: true,
      value: {
        result: { status: 'undetermined' },
        made: undefined,
        text: [expect.stringContaining('cable (x and y)')],
      },
    })
    expect(bringInMeasures('{}', 'plate.json')).toMatchObject({ ok: false })
  })

  it('refuses what no plate can have', () => {
    const swapped = changed((f) => {
      f.measures[2]!.jaws = 'far'
      f.measures[3]!.jaws = 'near'
      f.measures.splice(4, 2, { from: 'back', to: 'post-1', readings: [12] })
    })
    expect(bringInMeasures(swapped, 'plate.json')).toMatchObject({
      ok: false,
      problems: [{ path: 'holes[0]', expected: 'measures that give it a diameter above 0' }],
    })
    const off = changed((f) => {
      f.holes!.push({ id: 'far-off', diameter: 3 })
      f.measures.push({ from: 'left', to: 'far-off', readings: [150] }, { from: 'back', to: 'far-off', readings: [10] })
    })
    expect(bringInMeasures(off, 'plate.json')).toMatchObject({
      ok: false,
      problems: [
        { path: 'holes[3]', found: 'far-off at [150, 10], 3 mm wide', expected: 'measures that put it on the plate' },
      ],
    })
  })

  it('says in words what is loose and what is mirrored', () => {
    const loose = caliper(measuresOf(read(changed((f) => void f.measures.splice(9, 3)))))
    expect(caliperText(loose)).toEqual([
      'cable (x and y): the measures do not say where; measure it from one more edge or hole',
    ])
    const mirrored = read(
      changed((f) => {
        f.measures.splice(11, 1)
        f.measures[4] = { from: 'back', to: 'post-1', readings: [45] }
        f.measures[7] = { from: 'back', to: 'post-2', readings: [45] }
        f.measures[9]!.readings = [60.4]
        f.measures[10]!.readings = [60.4]
      }),
    )
    expect(caliperText(caliper(measuresOf(mirrored))).join('\n')).toMatch(
      /fits as well with cable at \[(69|70)[\d.]*, \d+[\d.]*\]/,
    )
  })
})
