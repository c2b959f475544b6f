/** What keeps two bodies apart says nothing while they are not on one deck, and all it has to say once they may be again. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { Engine } from '../../solver/search/engine.ts'
import { fixedEnd, Relation } from '../../solver/search/relation.ts'
import { benchDecks } from '../bench/decks.ts'
import { problemOf } from '../published/project.ts'

const values = Int32Array.from({ length: 10 }, (_, k) => k * 1000)

describe('a relation of two bodies', () => {
  const e = new Engine()
  const a = { v: e.newVar(10), values }
  const b = { v: e.newVar(10), values }
  const [left, together] = [e.newBool(), e.newBool()]
  // a, 4 mm wide, left of b
  new Relation(e, left, fixedEnd(a, 4000), fixedEnd(b, 0), together)

  it('is not asked where they cannot be together', () => {
    expect(e.propagate()).toBe(true)
    e.decide(e.not(together))
    expect(e.propagate()).toBe(true)
    e.decide(e.ge(a.v, 6))
    expect(e.propagate()).toBe(true)
    expect(e.isFalse(left)).toBe(false)
    e.decide(left)
    expect(e.propagate()).toBe(true)
    expect(e.lb[b.v]).toBe(0)
  })

  it('is asked from then on that they may be', () => {
    e.backTo(0)
    e.decide(e.ge(a.v, 6))
    expect(e.propagate()).toBe(true)
    expect(e.isFalse(left)).toBe(true)
    e.backTo(0)
    e.decide(left)
    e.decide(e.ge(a.v, 3))
    expect(e.propagate()).toBe(true)
    expect(e.lb[b.v]).toBe(7)
  })
})

describe('two bodies of a problem', () => {
  const model = compile(problemOf(benchDecks().find((d) => d.name.startsWith('20'))!.text))
  const { e, relations } = model
  const decks = (b: (typeof model.bodies)[number]) => new Set(b.modes.map((m) => m.deck))
  const standing = relations.filter(({ a, b }) => !a.seating && !b.seating)
  const pairs = standing.filter(({ a, b }) => decks(a).size > 1 && decks(b).size > 1)

  it('are not together once one is left out, or each is on a deck of its own', () => {
    expect(pairs.length).toBeGreaterThan(20)
    let parted = 0
    for (const { a, b, four, active } of pairs) {
      // some meet across decks, by their heights
      if (a.modes.some((p) => b.modes.some((q) => p.deck !== q.deck && active(p, q)))) continue
      const apart = () => four.every((r) => e.ub[r.need] === 0)
      for (const out of [a, b]) {
        e.backTo(0)
        if (e.isTrue(out.present)) continue
        e.decide(e.not(out.present))
        expect(e.propagate()).toBe(true)
        expect(apart()).toBe(true)
      }
      e.backTo(0)
      if (e.isFalse(model.onDeck(a, 0))) continue
      e.decide(model.onDeck(a, 0))
      if (!e.propagate() || e.isFalse(model.onDeck(b, 1))) continue
      expect(apart()).toBe(e.isFalse(b.present))
      e.decide(model.onDeck(b, 1))
      if (!e.propagate()) continue
      expect(apart()).toBe(true)
      parted++
    }
    e.backTo(0)
    expect(parted).toBeGreaterThan(20)
  })

  it('are not where one of them may only stand elsewhere', () => {
    let seen = 0
    for (const { a, b, four, active } of standing) {
      if (decks(a).size === decks(b).size || Math.min(decks(a).size, decks(b).size) > 1) continue
      const [one, two] = decks(a).size > 1 ? [a, b] : [b, a]
      for (const deck of decks(one)) {
        if (a.modes.some((p) => b.modes.some((q) => (one === a ? p : q).deck === deck && active(p, q)))) continue
        e.backTo(0)
        if (e.isFalse(model.onDeck(one, deck)) || e.isFalse(two.present)) continue
        e.decide(model.onDeck(one, deck))
        if (!e.propagate()) continue
        expect(four.every((r) => e.ub[r.need] === 0)).toBe(true)
        seen++
      }
    }
    e.backTo(0)
    expect(seen).toBeGreaterThan(10)
  })
})
