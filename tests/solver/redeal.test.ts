/** Rounds in which a few wires' ends may change decks: what they hold stands as it stands, and dear wires come up more often. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { figures, type Problem, solve } from '../../solver/index.ts'
import type { Placement } from '../../solver/problem.ts'
import { alike } from '../../solver/search/alike.ts'
import type { Model } from '../../solver/search/model.ts'
import { Dice } from '../../solver/search/neighbourhood.ts'
import { Redeal } from '../../solver/search/redeal.ts'
import { Search } from '../../solver/search/search.ts'
import { wireEnds } from '../../solver/search/wire-ends.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { problemOf } from '../published/project.ts'

const robot = (name: string): Problem =>
  aiming(problemOf(benchDecks().find((d) => d.name === name)!.text), ['free-tie-points', 'wire-length'])

interface Case {
  readonly problem: Problem
  readonly model: Model
  readonly placements: readonly Placement[]
}

function standing(name: string, steps: number): Case {
  const problem = robot(name)
  const result = solve(problem, { steps })
  if (!('placements' in result)) throw new Error(`${name} is ${result.status}`)
  return { problem, model: compile(problem), placements: result.placements }
}

/** A robot with three copies of one breadboard, some of them placed. */
const copies = standing('20 on 2, 2', 12_000)

const costsOf = ({ problem, placements }: Case): number[] => {
  const lengths = new Map(figures(problem, placements).wires.map((w) => [w.wire, w.length]))
  return problem.wires.map((w, i) => w.conductors * (lengths.get(i) ?? 0))
}

/** Bodies whose deck a draw holds. */
function held({ model, placements }: Case, lits: readonly number[]): number[] {
  const on = new Map(placements.map((p) => [model.onDeck(model.bodies[p.item]!, p.deck), p.item]))
  return lits.flatMap((l) => on.get(l) ?? [])
}

describe('a few wires’ ends set free to change decks', () => {
  it('holds what the layout has: the search comes back to it, or to another of the kind', () => {
    const { model, placements } = copies
    const redeal = new Redeal(model, wireEnds(model), new Dice())
    const search = new Search(model)
    search.follow(placements)
    search.lean = true
    const kinds = new Set<string>()
    for (let k = 0; k < 12; k++) {
      const lits = redeal.hold(placements, costsOf(copies))
      const stay = held(copies, lits)
      kinds.add(stay.join())
      expect(search.run(lits, () => false, model.e.conflicts + 2000)).toBe('found')
      const now = new Map(search.placements().map((p) => [p.item, p.deck]))
      for (const p of placements) if (stay.includes(p.item)) expect(now.get(p.item)).toBe(p.deck)
      model.e.backTo(0)
    }
    expect(kinds.size).toBeGreaterThan(8)
  })

  it('holds no copy: which of them stands where is the search’s own order', () => {
    const { model, placements, problem } = copies
    const twins = alike(problem).flat()
    expect(placements.filter((p) => twins.includes(p.item)).length).toBeGreaterThan(0)
    const redeal = new Redeal(model, wireEnds(model), new Dice())
    for (let k = 0; k < 20; k++) {
      const lits = redeal.hold(placements, costsOf(copies))
      const out = lits.map((l) => model.bodies.findIndex((b) => model.e.not(b.present) === l))
      for (const i of [...held(copies, lits), ...out]) expect(twins).not.toContain(i)
    }
  })

  it('sets the ends of a dear wire free more often than those of a cheap one, and of a free one hardly ever', () => {
    const { model, placements } = copies
    const wires = wireEnds(model)
    const redeal = new Redeal(model, wires, new Dice())
    const only = (w: number) => wires[w]!.to.concat(wires[w]!.from).flatMap((c) => (c.body ? [c.body.index] : []))
    // each with an end of its own: of all wires, no other leads there
    const own = wires.flatMap((w) => {
      const end = only(w.index).find((i) => wires.every((o) => o === w || !only(o.index).includes(i)))
      return end === undefined || !placements.some((p) => p.item === end) ? [] : [{ w: w.index, end }]
    })
    expect(own.length).toBeGreaterThan(4)
    const [dear, cheap, free] = own as [(typeof own)[0], (typeof own)[0], (typeof own)[0]]
    const costs = wires.map(() => 100)
    costs[dear.w] = 400
    costs[cheap.w] = 20
    costs[free.w] = 0
    const loose = { dear: 0, cheap: 0, free: 0 }
    for (let k = 0; k < 300; k++) {
      const stay = held(copies, redeal.hold(placements, costs))
      if (!stay.includes(dear.end)) loose.dear++
      if (!stay.includes(cheap.end)) loose.cheap++
      if (!stay.includes(free.end)) loose.free++
    }
    expect(loose.dear).toBeGreaterThan(2 * loose.cheap)
    expect(loose.cheap).toBeGreaterThan(loose.free)
  })
})
