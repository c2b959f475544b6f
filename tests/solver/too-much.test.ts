/** Too much for too little room, the commonest reason why nothing fits: the conflict is cut down soon, and is one. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { ofTooMuch } from '../../solver/explain.ts'
import { asking, fewest } from '../../solver/explain-items.ts'
import { shrinkPlainly } from '../../solver/explain-plain.ts'
import { check, type Problem, solve } from '../../solver/index.ts'
import { impossibleDecks } from '../bench/impossible.ts'
import { problemOf, problemWith } from '../published/project.ts'
import { conflictVerdict, trySolve } from './oracle/compare.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, ruleMixes, tiny } from './oracle/mixes.ts'

const posts = (w: number, d: number): number[][] => [
  [7, 7],
  [w - 7, 7],
  [7, d - 7],
  [w - 7, d - 7],
]

const deck = (w: number, d: number, items: readonly object[]): Problem =>
  problemWith({
    settings: { grid: 1, edgeClearance: 1, itemClearance: 1, minWeb: 2 },
    decks: [
      {
        id: 'deck',
        z: 45,
        thickness: 3,
        outline: { rect: [0, 0, w, d], radius: 8 },
        holes: posts(w, d).map((at, n) => ({ id: `post-${n}`, at, diameter: 3.2 })),
      },
    ],
    zones: posts(w, d).map((at, n) => ({
      id: `zone-${n}`,
      kind: 'keep-out',
      deck: 'deck',
      shape: { circle: [...at, 3.5] },
      why: 'post',
    })),
    items,
  })

const named = (p: Problem, conflict: readonly { readonly items: readonly string[] }[]) =>
  p.items.filter((i) => conflict.some((c) => c.items.includes(i.id)))

const endless = { slice: () => false, over: () => false, next: () => undefined, mostSteps: Number.POSITIVE_INFINITY }

function toEnd<T>(run: Generator<undefined, T>): T {
  let next = run.next()
  while (!next.done) next = run.next()
  return next.value
}

describe('a deck with too much on it', () => {
  it.each([
    ['ten small boards', deck(164, 118, [{ id: 'board', footprint: 'breadboard-170', count: 10 }])],
    [
      'a robot of 12',
      deck(170, 122, [
        { id: 'brain', footprint: 'controller-four-hole' },
        { id: 'pack', footprint: 'pack-lithium-flat' },
        { id: 'cells', footprint: 'cells-4-aa' },
        { id: 'half', footprint: 'breadboard-400', count: 2 },
        { id: 'board', footprint: 'breadboard-170', count: 2 },
        { id: 'eye', footprint: 'sensor-ultrasonic', count: 2 },
        { id: 'regulator', footprint: 'voltage-regulator' },
        { id: 'switch', footprint: 'slide-switch' },
        { id: 'damp', footprint: 'humidity-board' },
      ]),
    ],
    [
      'a controller, cells and six boards',
      deck(164, 118, [
        { id: 'brain', footprint: 'controller-four-hole' },
        { id: 'cells', footprint: 'cells-4-aa' },
        { id: 'board', footprint: 'breadboard-170', count: 6 },
      ]),
    ],
  ])('%s: items that do not fit together, and do without any one of them', (_, p) => {
    const result = solve(p, { steps: 60_000 })
    expect(result.status).toBe('infeasible')
    if (result.status !== 'infeasible') return
    expect(result.conflictIrreducible).toBe(true)
    const few = named(p, result.conflict)
    const only = (items: readonly Problem['items'][number][]): Problem => ({ ...p, items, objective: [] })
    expect(solve(only(few), { steps: 60_000, explain: false }).status).toBe('infeasible')
    // copies are one another's
    for (const one of few.filter((i, k) => few.findIndex((o) => o.base === i.base) === k)) {
      const rest = only(few.filter((i) => i !== one))
      const without = solve(rest, { steps: 60_000 })
      if (!('placements' in without)) throw new Error(`${without.status} without ${one.id}`)
      expect(check(rest, without.placements)).toEqual([])
    }
  })

  it('what a short try cannot do without is tried longer once others are gone: then there is a layout without each that is left', () => {
    const p = problemOf(impossibleDecks().find((d) => d.name.startsWith('5 %'))!.text)
    const { items, without } = toEnd(fewest(asking(p), endless))
    expect([...without.keys()].sort()).toEqual([...items].sort())
    for (const [item, layout] of without)
      expect(
        check({ ...p, items: p.items.map((i, k) => ({ ...i, required: k !== item && items.includes(k) })) }, layout),
      ).toEqual([])
  })

  const board = {
    id: 'small-board',
    kind: 'breadboard',
    body: { width: 14, depth: 10, height: 8 },
    mount: { kind: 'adhesive' },
    breadboard: { blocks: [{ at: [2, 3.7], columns: 5, rows: 2, strip: 'column' }] },
  }
  const plug = (size: number) => ({
    id: 'plug',
    body: { width: size, depth: size, height: 3 },
    mount: { kind: 'plug-in' },
    plug: { pins: [{ id: '1', at: [size / 2, size / 2] }] },
  })
  const onBoard = (size: number, itemClearance: number): Problem =>
    problemWith({
      settings: { grid: 1, itemClearance },
      decks: [{ id: 'deck', z: 45, thickness: 3, outline: { rect: [0, 0, 60, 40] } }],
      footprints: [board, plug(size)],
      items: [
        { id: 'board', footprint: 'small-board' },
        { id: 'this', footprint: 'plug' },
        { id: 'that', footprint: 'plug' },
      ],
    })
  const say = (c: { readonly rule: string; readonly items: readonly string[] }) => `${c.rule} ${c.items.join(' ')}`

  it('parts on one board that may touch fit: what keeps them apart is named', () => {
    const told = toEnd(ofTooMuch(asking(onBoard(2, 20)), endless))
    expect(told?.conflictIrreducible).toBe(true)
    expect(told?.conflict.map(say)).toContain('R2 this that')
  })

  it('parts that cover all contacts: a layout with one over the other breaks what each asks of contacts as well', () => {
    const p = onBoard(24, 1)
    const { instances } = compile(p, { explaining: true })
    const { without } = toEnd(fewest(asking(p), endless))
    const needed = toEnd(shrinkPlainly(p, instances, without, endless))?.needed.map(say)
    expect(needed).toContain('R10 this')
    expect(needed).not.toContain('R2 this that')
  })

  const each = LONG ? 200 : 3
  it(`refuted plainly, each member is needed: brute force on ${each} tiny decks a kind`, {
    timeout: LONG ? 3_600_000 : 60_000,
  }, () => {
    const complaints: string[] = []
    let proven = 0
    for (const [k, mix] of [tiny, ...Object.values(ruleMixes)].entries())
      for (let s = 0; s < each; s++) {
        const seed = 90_000 + s * 16 + k
        const p = randomDeck(seed, mix)
        const r = trySolve(p, { time: 20_000, explain: false })
        if (typeof r === 'string' || r.status !== 'infeasible') continue
        const told = toEnd(ofTooMuch(asking(p), endless))
        if (!told?.conflictIrreducible) continue
        const verdict = conflictVerdict(p, told.conflict, 80_000)
        if (verdict === 'irreducible') proven++
        else if (verdict !== 'too large') complaints.push(`seed ${seed}: ${verdict}`)
      }
    expect(complaints).toEqual([])
    expect(proven).toBeGreaterThan(each / 2)
  })
})
