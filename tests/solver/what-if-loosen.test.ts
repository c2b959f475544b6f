/** Loosenings: by hand where the answer is plain, and against brute force where it is not. */
import { describe, expect, it } from 'vitest'
import { type ConflictMember, check, type Problem, solve } from '../../solver/index.ts'
import { mm, toMm } from '../../solver/units.ts'
import { candidatesOf } from '../../solver/what-if/candidates.ts'
import { applyChanges, type Change, type Loosening, loosening, loosenings } from '../../solver/what-if/index.ts'
import { lostOn } from '../../solver/what-if/outline.ts'
import { circle, deck, item, part, poly, problem, pt, rect, screwed, wire, zone } from './check-kit.ts'
import { brute } from './oracle/brute.ts'
import type { DeckMix } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes, tiny } from './oracle/mixes.ts'

const on0 = { decks: [0], turns: [0] as const }
const glued = { kind: 'adhesive' } as const

function conflictOf(p: Problem): readonly ConflictMember[] {
  const r = solve(p)
  if (r.status !== 'infeasible') throw new Error(`expected a deck on which nothing fits, found ${r.status}`)
  return r.conflict
}
const texts = (p: Problem) => loosenings(p, conflictOf(p)).loosenings.map((l) => l.text)

describe('loosenings by hand', () => {
  const box = part(10, 10, 5, { mount: glued })
  const two = (w: number, h: number, more: Partial<Problem> = {}) =>
    problem([item('a', box, on0), item('b', box, on0)], {
      grid: mm(1),
      decks: [deck(rect(0, 0, w, h))],
      ...more,
    })

  it('names the deck, the clearance and the item, the smallest relative change first', () => {
    // Two squares of 10 mm side by side with 1 mm between them need 21 mm; 20 mm are there.
    const p = two(20, 10, { itemClearance: mm(1) })
    expect(texts(p)).toEqual(['Deck main 1 mm wider (20 → 21 mm).', 'Item clearance 1 → 0 mm.', 'Without a.'])
  })

  it('puts what is found last before what costs a little more', () => {
    // 2 + 10 + 1 + 10 + 2 = 25 mm are needed, 24.1 are there: nine tenths of the gap, a quarter of the edge (2 → 1.5), or 1 mm of deck;
    // side by side they would fit on 25 mm of width, which is 11 of 14 mm more: less than nine tenths, and tried last
    const p = two(14, 24.1, { itemClearance: mm(1), edgeClearance: mm(2), grid: mm(0.1) })
    const { loosenings: found, complete } = loosenings(p, conflictOf(p))
    expect(complete).toBe(true)
    const costs = found.map((l) => Number(l.cost.toFixed(3)))
    expect(costs).toEqual([Number((1 / 24.1).toFixed(3)), 0.25, Number((11 / 14).toFixed(3))])
  })

  it('finds the largest clearance that works to a tenth of a millimetre', () => {
    // On a grid of 0.1 mm the two squares have 20.7 mm: a gap of 0.7 mm is the most.
    const p = two(20.7, 10, { itemClearance: mm(2), grid: mm(0.1) })
    const found = loosenings(p, conflictOf(p)).loosenings.find((l) => l.changes[0]!.kind === 'setting')!
    expect(found.changes).toEqual([{ kind: 'setting', setting: 'itemClearance', from: 2000, to: 700 }])
    expect(found.least).toBe(true)
  })

  it('lengthens a lead by what is missing, at the wire and at its exit', () => {
    const f = part(10, 10, 5, { mount: glued, terminals: { t: [0, 0] } })
    const place = [{ kind: 'at' as const, deck: 0, at: pt(30, 20), turn: 0 as const }]
    const p = problem([item('a', f, { ...on0, place })], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 60, 60))],
      exits: [{ id: 'x', deck: 0, at: pt(0, 0), free: mm(45) }],
      wires: [
        wire(
          { kind: 'exit', exit: 0 },
          { kind: 'item', ref: { name: 'a', items: [0] }, terminal: 't', at: pt(0, 0) },
          { maxLength: mm(40), loop: mm(5.5) },
        ),
      ],
    })
    // 30 + 20 + 5.5 = 55.5 mm are needed; in steps of 1 mm from the 40 mm that bind that is 56 mm, more than the exit leaves.
    const first = loosenings(p, conflictOf(p)).loosenings[0]!
    expect(first.text).toBe('Wire w 16 mm longer (40 → 56 mm), and the lead at x 11 mm longer (45 → 56 mm).')
  })

  it('releases a zone, widens a `within`, drops an entry, thins a web', () => {
    const p1 = two(20, 10, { zones: [zone('keep-out', rect(0, 0, 5, 5))] })
    expect(texts(p1)).toContain('Zone keep-out-1 released.')
    const place = [
      { kind: 'edge' as const, edge: 'left' as const, within: mm(2) },
      { kind: 'edge' as const, edge: 'right' as const, within: mm(3) },
    ]
    const p2 = problem([item('a', box, { ...on0, place })], { grid: mm(1), decks: [deck(rect(0, 0, 30, 30))] })
    const found = loosenings(p2, conflictOf(p2)).loosenings
    // 20 mm of play, 2 + 3 allowed: either side needs 15 more, a half of the 30 mm deck.
    expect(found.map((l) => l.text).slice(0, 2)).toEqual([
      'Let a stand up to 17 mm from the left edge instead of 2 mm.',
      'Let a stand up to 18 mm from the right edge instead of 3 mm.',
    ])
    expect(found[2]!.text).toMatch(/^Let a stand at any distance from the (left|right) edge\.$/)
    const held = part(10, 10, 5, { mount: screwed([{ at: [5, 5], diameter: 4 }]) })
    const p3 = problem([item('a', held, on0)], { grid: mm(1), decks: [deck(rect(0, 0, 10, 10))], minWeb: mm(3.5) })
    expect(texts(p3)[0]).toBe('Least web around holes 3.5 → 3 mm.')
  })

  it('takes one copy away, and renames what is left', () => {
    const copies = [1, 2, 3].map((k) => item(`b#${k}`, box, { ...on0, base: 'b' }))
    const p = problem(copies, { grid: mm(1), decks: [deck(rect(0, 0, 20, 10))] })
    const out = loosenings(p, conflictOf(p)).loosenings
    expect(out[0]!.text).toBe('One b fewer (3 → 2).')
    expect(out[0]!.cost).toBeCloseTo(1 / 3)
    const one = applyChanges({ problem: p, pins: [] }, [
      { kind: 'count', item: 'b', from: 3, to: 2 },
      { kind: 'count', item: 'b', from: 2, to: 1 },
    ])
    expect(one.problem.items.map((i) => i.id)).toEqual(['b'])
  })

  it('leaves a copy where one is held, whichever of them is taken away', () => {
    const copies = [1, 2, 3].map((k) => item(`b#${k}`, box, { ...on0, base: 'b' }))
    const p = problem(copies, { grid: mm(1), decks: [deck(rect(0, 0, 29, 10))] })
    const pins = [{ item: 2, deck: 0, at: pt(4, 0), turn: 0 as const }]
    const r = solve(p, { pins })
    if (r.status !== 'infeasible') throw new Error(r.status)
    const fewer = loosenings(p, r.conflict, { pins }).loosenings.find((l) => l.changes[0]!.kind === 'count')!
    expect(fewer.text).toBe('One b fewer (3 → 2).')
    expect(fewer.placements.map((q) => q.at.x / 1000)).toContain(4)
  })

  it('pairs two changes where there are two reasons', () => {
    // Each of two decks is too small for its own item, so no single change helps.
    const of = (x: number, z: number) =>
      problem([item('a', box, on0), item('b', box, { decks: [1], turns: [0] })], {
        grid: mm(1),
        decks: [deck(rect(0, 0, 12, 7)), { ...deck(rect(x, 0, 8, 12)), id: 'up', name: 'up', z: mm(z) }],
      })
    const beside = of(100, toMm(of(0, 0).decks[0]!.z))
    expect(loosenings(beside, conflictOf(beside)).complete).toBe(true)
    // a deck over another one may be in its way when it is larger: of such pairs not all are tried
    const p = of(0, 200)
    const out = loosenings(p, conflictOf(p))
    expect(out.complete).toBe(false)
    expect(out.loosenings[0]!.changes).toHaveLength(2)
    const text = out.loosenings[0]!.text
    expect(text).toMatch(/main 3 mm longer \(7 → 10 mm\)/)
    expect(text).toMatch(/up 2 mm wider \(8 → 10 mm\)/)
    for (const l of out.loosenings)
      expect(check(applyChanges({ problem: p, pins: [] }, l.changes).problem, l.placements)).toEqual([])
  })

  it('makes one deck longer and wider by no more than each must be', () => {
    const p = problem([item('a', part(35, 30, 5, { mount: glued }), on0)], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 32, 25))],
    })
    const out = loosenings(p, conflictOf(p), { keep: ['a'] })
    expect(out.loosenings.map((l) => [l.text, l.least])).toContainEqual([
      'Deck main 5 mm longer (25 → 30 mm) and 3 mm wider (32 → 35 mm).',
      true,
    ])
    expect(out.loosenings[0]!.changes).toHaveLength(1)
  })

  it('leaves no hole hanging where both sides of one deck move', () => {
    // 10 mm wider alone the notch's foot clears the hole at its corner, 3 mm longer alone its wall does
    const notched = poly([0, 0], [100, 0], [100, 100], [70, 100], [70, 60], [60, 60], [60, 100], [0, 100])
    const p = problem(
      [item('tall', part(5, 101, 5, { mount: glued }), on0), item('broad', part(110, 2, 5, { mount: glued }), on0)],
      { grid: mm(1), decks: [deck(notched, { holes: [{ id: 'h', at: pt(75, 65), diameter: mm(3) }] })] },
    )
    const out = loosenings(p, conflictOf(p), { keep: ['tall', 'broad'] })
    expect(out.loosenings.length).toBeGreaterThan(0)
    for (const l of out.loosenings) {
      const changed = applyChanges({ problem: p, pins: [] }, l.changes).problem
      expect(lostOn(changed, 0, changed.decks[0]!.outline)).toEqual([])
    }
  })

  it('knows that a lead may end far outside its part', () => {
    const far = part(5, 5, 5, { mount: glued, terminals: { t: [300, 2] } })
    const p = problem([item('a', far, on0)], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 20, 20))],
      exits: [{ id: 'x', deck: 0, at: pt(1, 1), free: mm(5) }],
      wires: [
        wire(
          { kind: 'exit', exit: 0 },
          { kind: 'item', ref: { name: 'a', items: [0] }, terminal: 't', at: pt(300, 2) },
        ),
      ],
    })
    expect(loosenings(p, conflictOf(p)).loosenings.map((l) => l.text)).toContain(
      'The lead at x 295 mm longer (5 → 300 mm).',
    )
  })

  it('finds a size that fits between sizes that do not, and needs no second change then', () => {
    // a at the left, b at the right edge and at most 31 mm from a, c at its place: from 40 to 41 mm of width all have room
    const at = (x: number) => ({ kind: 'at' as const, deck: 0, at: pt(x, 0), turn: 0 as const })
    const right = { kind: 'edge' as const, edge: 'right' as const, within: mm(0) }
    const near = { kind: 'near' as const, item: { name: 'a', items: [0] }, within: mm(31) }
    const p = problem(
      [
        item('a', box, { ...on0, place: [at(0)] }),
        item('b', box, { ...on0, place: [right, near] }),
        item('c', part(20, 10, 5, { mount: glued }), { ...on0, place: [at(10)] }),
      ],
      { grid: mm(1), decks: [deck(rect(0, 0, 30, 10))] },
    )
    const out = loosenings(p, conflictOf(p))
    const wider = out.loosenings.find((l) => l.changes.some((c) => c.kind === 'outline'))
    expect(wider?.text).toBe('Deck main 10 mm wider (30 → 40 mm).')
    expect(wider?.least).toBe(true)
    expect(out.complete).toBe(true)
  })

  it('is complete only where every smaller step was refuted', () => {
    const p = problem(
      [1, 2, 3, 4].map((k) => item(`b${k}`, box, on0)),
      { grid: mm(1), decks: [deck(rect(0, 0, 30, 10))] },
    )
    const conflict = conflictOf(p)
    const all = loosenings(p, conflict)
    expect(all.complete).toBe(true)
    let cut = 0
    for (let steps = 1; steps < 400; steps += 7) {
      const some = loosenings(p, conflict, { steps })
      if (some.complete) expect(some.loosenings.map((l) => l.text)).toEqual(all.loosenings.map((l) => l.text))
      else cut++
    }
    expect(cut).toBeGreaterThan(0)
  })

  it('lets go of a hold of what need not be there', () => {
    // a round deck for one of the two
    const round: Partial<Problem> = { grid: mm(1), decks: [deck(circle(12, 12, 8))] }
    const p = problem([item('b', box, { ...on0, required: false }), item('c', box, on0)], round)
    const pins = [{ item: 0, deck: 0, at: pt(7, 7), turn: 0 as const }]
    const r = solve(p, { pins })
    if (r.status !== 'infeasible') throw new Error(r.status)
    const out = loosenings(p, r.conflict, { pins, keep: ['c'] }).loosenings
    expect(out.map((l) => l.changes)).toEqual([[{ kind: 'let-go', item: 'b' }]])
  })

  it('pairs one fewer with a hold let go, whichever copy is held', () => {
    const round: Partial<Problem> = { grid: mm(1), decks: [deck(circle(12, 12, 11.3))] }
    const copies = [1, 2].map((k) => item(`b#${k}`, box, { ...on0, base: 'b' }))
    const p = problem([...copies, item('y', box, on0)], round)
    for (const held of [0, 1]) {
      const pins = [{ item: held, deck: 0, at: pt(7, 7), turn: 0 as const }]
      const r = solve(p, { pins })
      if (r.status !== 'infeasible') throw new Error(r.status)
      const out = loosenings(p, r.conflict, { pins, keep: ['y'] }).loosenings
      expect(out.map((l) => l.changes.map((c) => c.kind).sort())).toContainEqual(['count', 'let-go'])
    }
  })

  it('leaves a copy where one is held that others are named beside', () => {
    const copies = [1, 2].map((k) => item(`b#${k}`, box, { ...on0, base: 'b' }))
    const near = { kind: 'near' as const, item: { name: 'b#1', items: [0] }, within: mm(30) }
    const p = problem([...copies, item('c', box, { ...on0, place: [near] })], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 25, 10))],
    })
    const pins = [{ item: 1, deck: 0, at: pt(8, 0), turn: 0 as const }]
    const fewer = applyChanges({ problem: p, pins }, [{ kind: 'count', item: 'b', from: 2, to: 1 }])
    expect(fewer.pins).toEqual([{ ...pins[0], item: 0 }])
  })

  it('lets go of a hold', () => {
    const p = two(20, 10)
    const pins = [{ item: 0, deck: 0, at: pt(5, 0), turn: 0 as const }]
    const r = solve(p, { pins })
    if (r.status !== 'infeasible') throw new Error(r.status)
    const out = loosenings(p, r.conflict, { pins }).loosenings
    expect(out.flatMap((l) => l.changes)).toContainEqual({ kind: 'let-go', item: 'a' })
  })
})

describe('loosenings within their limits', () => {
  const p = ((): Problem => {
    for (let s = 1; ; s++) {
      const q = randomDeck(s, { ...tiny, items: [4, 4] })
      if (solve(q).status === 'infeasible') return q
    }
  })()

  it('claims nothing when there is no time, and stops when told to', () => {
    expect(loosenings(p, conflictOf(p), { time: 0 })).toEqual({ loosenings: [], complete: false })
    const signal = { aborted: false }
    const run = loosening(p, conflictOf(p), { signal })
    run.next()
    signal.aborted = true
    const from = performance.now()
    for (;;) if (run.next().done) break
    expect(performance.now() - from).toBeLessThan(2000)
  })

  it('gives the same answer twice, steps limited', () => {
    const conflict = conflictOf(p)
    for (const steps of [50, 500, 5000])
      expect(loosenings(p, conflict, { steps })).toEqual(loosenings(p, conflict, { steps }))
  })
})

/** `undefined`: too large for the oracle. */
function feasible(p: Problem, pins = [] as const): boolean | undefined {
  const a = brute(p, { limit: 60_000, feasibilityOnly: true, pins })
  return a.status === 'too large' ? undefined : a.status === 'optimal'
}

describe('loosenings against brute force', () => {
  const mixes: (RuleName | 'all')[] = [...(Object.keys(ruleMixes) as RuleName[]), 'all']
  // few leads are so short that only a longer one would do; and few holds are in the way
  const few: Partial<Record<RuleName | 'all', number>> = { R2: 3, R4: 7, R7: 16, R8: 3, R9: 2 }
  const each = (mix: RuleName | 'all') => (LONG ? 150 : (few[mix] ?? 4))
  it(`agrees on ${mixes.reduce((sum, m) => sum + each(m), 0)} random decks: each works, no less does, nothing smaller was missed`, {
    timeout: LONG ? 3_600_000 : 240_000,
  }, () => {
    const complaints: string[] = []
    const kinds = new Map<Change['kind'], number>()
    let least = 0
    let scanned = 0
    for (const [m, mix] of mixes.entries())
      for (let s = 0; s < each(mix); s++) {
        const p = randomDeck(70_000 + s * 16 + m, mixOf(mix))
        const r = solve(p, { time: 10_000 })
        if (r.status !== 'infeasible') continue
        const asked = { problem: p, pins: [] }
        const out = loosenings(p, r.conflict, { time: 10_000 })
        const say = (text: string) => complaints.push(`${mix} ${s}: ${text}`)
        for (const l of out.loosenings) {
          for (const c of l.changes) kinds.set(c.kind, (kinds.get(c.kind) ?? 0) + 1)
          const loose = applyChanges(asked, l.changes).problem
          for (const f of check(loose, l.placements)) say(`${l.text} ${f.rule} ${f.text}`)
          if (feasible(loose) === false) say(`${l.text} does not do`)
          if (new Set(l.changes.map((c) => JSON.stringify(nameOf(c)))).size > 1 && !isLead(l.changes))
            for (const c of l.changes)
              if (feasible(applyChanges(asked, [c]).problem) === true) say(`${l.text} has a half that does alone`)
        }
        const single = out.loosenings.filter(
          (l) => l.changes.length === 1 || l.changes.every((c) => c.kind !== 'outline'),
        )
        const candidates = candidatesOf(asked, r.conflict, new Set())
        for (const c of candidates) {
          // by what it changes at that step: of a lead the limits that are in the way by then
          const stepOf = (l: Loosening) =>
            Array.from({ length: c.steps }, (_, k) => k + 1).find((k) => same(c.changes(k) ?? [], l.changes))
          const own = single.find((l) => stepOf(l) !== undefined)
          const step = own && stepOf(own)
          if (own && step !== undefined && step > 1 && own.least) {
            const v = feasible(applyChanges(asked, c.changes(step - 1) ?? []).problem)
            if (v !== undefined) least++
            if (v === true) say(`${own.text} but a step less does`)
          }
          if (!out.complete) continue
          // what costs less than the third, and is not itself among the three, must not do
          const worst = out.loosenings.length < 3 ? Number.POSITIVE_INFINITY : out.loosenings[2]!.cost
          let top = own && step !== undefined ? step - 1 : c.steps
          while (top >= 1 && c.cost(top) >= worst) top--
          if (top < 1) continue
          const steps = c.monotone ? [top] : Array.from({ length: top }, (_, k) => k + 1)
          for (const k of steps) {
            const changes = c.changes(k)
            const v = changes && feasible(applyChanges(asked, changes).problem)
            if (v !== undefined) scanned++
            if (v === true) say(`${c.key} at ${k} of ${c.steps} would do, but is not among the smallest`)
          }
        }
      }
    expect(complaints).toEqual([])
    for (const k of ['setting', 'outline', 'release', 'optional', 'no-place', 'within', 'max-length'] as const)
      expect(kinds.get(k) ?? 0, k).toBeGreaterThan(0)
    expect(least).toBeGreaterThan(5)
    expect(scanned).toBeGreaterThan(40)
  })
})

/** A wire's own limit and its exits' are one change. */
const isLead = (changes: readonly Change[]) => changes.every((c) => c.kind === 'max-length' || c.kind === 'free')

/** More to loosen about zones and wires; no cut-outs that could be an opening that is there. */
function mixOf(mix: RuleName | 'all'): DeckMix {
  if (mix === 'all') return tiny
  const own = ruleMixes[mix]
  if (mix === 'R4') return { ...own, body: [0.45, 0.75], items: [1, 3] }
  if (mix === 'R5') return { ...own, mounts: ['screw', 'strap'] }
  return mix === 'R7' ? { ...own, place: 0.6 } : own
}

/** What a change is about, without how much. */
const nameOf = (c: Change): unknown => ({
  ...c,
  to: 0,
  outline: 0,
  ...(c.kind === 'outline' ? { longer: Math.sign(c.longer), wider: Math.sign(c.wider) } : {}),
})
const same = (a: readonly Change[], b: readonly Change[]): boolean => JSON.stringify(a) === JSON.stringify(b)
