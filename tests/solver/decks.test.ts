/** Decks dealt out first, and each asked by itself what fits: the same answers as the search without it, and nothing ruled out that stands. */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import { compile } from '../../solver/compile.ts'
import { deckByDeck } from '../../solver/decks.ts'
import { type Problem, solve } from '../../solver/index.ts'
import type { Item } from '../../solver/problem.ts'
import { TextLog } from '../../solver/proof/text-log.ts'
import type { Body } from '../../solver/search/model.ts'
import { Search, type Verdict } from '../../solver/search/search.ts'
import { wireEnds } from '../../solver/search/wire-ends.ts'
import { mm, type Turn } from '../../solver/units.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { dice } from '../bench/random.ts'
import { problemOf } from '../published/project.ts'
import { deck, item, overhang, part, problem, pt, rect } from './check-kit.ts'
import { type DeckMix, everything } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG } from './oracle/mixes.ts'
import { seeds } from './oracle/random.ts'

const never = () => false
const MANY = LONG ? 2000 : 24
const BODY = { mount: { kind: 'adhesive' } } as const

/** Two decks, copies, every rule. */
const two: DeckMix = {
  ...everything,
  second: 1,
  counted: 0.5,
  items: [3, 6],
  body: [0.2, 0.55],
  grids: [1, 2, 3, 5],
  cells: 12,
}

/**
 * About as much as fits on two or three small decks, of few sizes: copies, equal items of other names, and such as differ from these in one
 * thing that matters (turns, decks, stack, overhang, a place that holds one).
 */
function tight(seed: number): Problem {
  const d = dice(seed)
  const [w, h] = [d.whole(7, 11), d.whole(6, 10)]
  const decks = Array.from({ length: d.whole(2, 3) }, (_, k) =>
    deck(rect(0, 0, w - d.whole(0, 2), h), { id: `deck-${k}`, z: mm(30 + 12 * k), thickness: mm(2) }),
  )
  const all = decks.map((_, k) => k)
  const items: Item[] = []
  for (let kind = 0, area = 0; area < decks.length * w * h && items.length < 13; kind++) {
    const [a, b] = [d.whole(2, 6), d.whole(2, 6)]
    const body = part(a, b, 5, BODY)
    const turns: Turn[] = d.pick([[0], [0, 1]])
    for (let n = d.whole(1, 4); n > 0 && items.length < 13; n--) {
      area += a * b
      const other = d.whole(0, 4) === 0
      // copies of one item are the same in everything
      const id = !other && d.whole(0, 2) > 0 ? `kind-${kind}#${n}` : `kind-${kind}-${n}`
      const own: Partial<Item>[] = [
        { turns: [1] },
        { decks: [d.whole(0, decks.length - 1)] },
        { stack: mm(20) },
        { overhang: overhang({ right: 2 }) },
        {
          place: [
            { kind: 'at', deck: d.whole(0, decks.length - 1), at: pt(d.whole(0, 4), d.whole(0, 3)), turn: turns[0]! },
          ],
        },
      ]
      items.push(item(id, body, { turns, decks: all, required: false, ...(other ? d.pick(own) : {}) }))
    }
  }
  return problem(items, { grid: mm(1), decks })
}

/** A search that may leave everything out, but what is assumed; `ruled` counts what decks have refused. */
function searching(p: Problem, staged: boolean, wired = false) {
  const model = compile(p, { optional: true })
  const search = new Search(model)
  search.sparse = true
  const told = { ruled: 0 }
  const stage = staged ? deckByDeck(model, never, wired ? wireEnds(model) : []) : undefined
  if (stage)
    search.stage = {
      next: () => stage.next(),
      refute: (...limits) => {
        const answer = stage.refute(...limits)
        if (Array.isArray(answer)) told.ruled++
        return answer
      },
    }
  const there = model.bodies.map((b) => b.present)
  const ask = (wanted: readonly number[]): Verdict => {
    model.e.backTo(0)
    return search.run(
      wanted.map((i) => there[i]!),
      never,
    )
  }
  return { search, there, told, ask }
}

/** Asks both for more and more, one after the other in the same search, so that what was ruled out for one is there for the next. */
function compared(p: Problem, seed: number): { found: number; none: number; ruled: number } {
  const roll = dice(seed)
  const [plain, staged] = [searching(p, false), searching(p, true, seed % 2 === 1)]
  const seen = { found: 0, none: 0, ruled: 0 }
  for (let round = 0; round < 5; round++) {
    const wanted = plain.there.flatMap((_, i) => (roll.whole(0, 9) < 3 + 1.5 * round ? [i] : []))
    const verdict = staged.ask(wanted)
    expect(verdict, `${seed}: ${wanted}`).toBe(plain.ask(wanted))
    if (verdict === 'found') {
      seen.found++
      const free = { ...p, items: p.items.map((i) => ({ ...i, required: false })) }
      expect(check(free, staged.search.placements()), `${seed}`).toEqual([])
    } else {
      seen.none++
      // a core is refuted by a search that has learned nothing
      const core = wanted.filter((i) => staged.search.core.includes(staged.there[i]!))
      expect(searching(p, false).ask(core), `${seed}: core ${core} of ${wanted}`).toBe('none')
    }
  }
  return { ...seen, ruled: staged.told.ruled }
}

function comparedAll(problems: Iterable<readonly [Problem, number]>): { found: number; none: number; ruled: number } {
  const all = { found: 0, none: 0, ruled: 0 }
  for (const [p, seed] of problems) {
    const one = compared(p, seed)
    all.found += one.found
    all.none += one.none
    all.ruled += one.ruled
  }
  return all
}

describe('decks asked one by one', () => {
  it('let through whatever the whole has room for, and rule out only what it has none for', () => {
    const seen = comparedAll(seeds(MANY, 4000).map((s) => [tight(s), s]))
    expect(Math.min(seen.found, seen.none)).toBeGreaterThan(MANY)
    expect(seen.ruled).toBeGreaterThan(MANY)
  })

  it('do so under all rules', () => {
    const random = seeds(MANY / 2, 310_000).map((s): [Problem, number] => [randomDeck(s, two), s])
    const seen = comparedAll(random.filter(([p]) => p.decks.length > 1))
    expect(Math.min(seen.found, seen.none)).toBeGreaterThan(MANY / 8)
  })

  it.each([
    ['one by one', false],
    ['in passing', true],
  ])('take the same steps wherever they are interrupted, and end at a limit: %s', (_, brief) => {
    const twenty = benchDecks().find((d) => d.name === '20 on 2, 4')!
    const robot = aiming(problemOf(twenty.text), [])
    const most = { ...robot, items: robot.items.map((i) => (i.base === 'spare' ? { ...i, required: true } : i)) }
    // one ends proven, and in the short run the other at the limit
    const end = LONG || !brief ? 6000 : 1200
    const stops = [1e9, 7, 1].map((every) => {
      const model = compile(most)
      const search = new Search(model)
      search.stage = deckByDeck(model, never, brief ? wireEnds(model) : [], brief)
      let looks = 0
      let runs = 0
      let verdict = 'stopped'
      while (verdict === 'stopped' && search.steps < end) {
        verdict = search.run([], () => ++looks % every === 0, 3000, end)
        runs++
      }
      return { verdict, steps: search.steps, conflicts: model.e.conflicts, runs }
    })
    expect(stops[2]!.runs).toBeGreaterThan(20)
    const apart = stops.map(({ runs: _, ...rest }) => rest)
    expect(apart[1]).toEqual(apart[0])
    expect(apart[2]).toEqual(apart[0])
  })

  it('are dealt what most wires lead to first, and a board with the wires of what must be plugged into it', () => {
    const p = problemOf(benchDecks().find((d) => d.name === '30 on 3, 2')!.text)
    const model = compile(p)
    const { e } = model
    expect(e.propagate()).toBe(true)
    const stage = deckByDeck(model, never, wireEnds(model))!
    const dealt: string[] = []
    for (let k = 0; k < 3; k++) {
      const lit = stage.next()
      const on = (b: Body) => p.decks.some((_, d) => b.modes.some((m) => m.deck === d) && model.onDeck(b, d) === lit)
      dealt.push(model.bodies.find((b) => !b.seating && on(b))!.item.id)
      e.decide(lit)
      expect(e.propagate()).toBe(true)
    }
    // brain and eye have room on one deck only; 11 conductors lead to the driver on its board, 5 to the block, 4 to the reader, as to smaller ones
    expect(dealt).toEqual(['bench', 'block', 'reader'])
  })

  it('are not asked where there is one, where a proof is logged, or where no time is left', () => {
    const robot = problemOf(benchDecks()[0]!.text)
    expect(deckByDeck(compile(robot), never)).toBeDefined()
    expect(deckByDeck(compile(robot), () => true)).toBeUndefined()
    expect(deckByDeck(compile(robot, { log: new TextLog(() => {}) }), never)).toBeUndefined()
    const one = { ...robot, decks: robot.decks.slice(0, 1), passes: [], items: [], wires: [], zones: [], exits: [] }
    expect(deckByDeck(compile(one), never)).toBeUndefined()
  })

  it.skipIf(!LONG)('prove what was not proven without it: four small boards more do not fit on three decks', () => {
    const thirty = benchDecks().find((d) => d.name === '30 on 3, 3')!
    const result = solve(aiming(problemOf(thirty.text), ['free-tie-points']), { time: 120_000 })
    expect(result).toMatchObject({ status: 'optimal', objectives: [{ value: 1041, bound: 1041 }] })
  })
})
