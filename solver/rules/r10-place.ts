/** R10: `place` entries. (Being placed at all, once and on an allowed deck and turn, is how bodies are compiled.) */
import type { ItemRef, Place } from '../problem.ts'
import { type Body, cornerOf, type Model } from '../search/model.ts'
import { firstAtLeast, fixedEnd, Relation } from '../search/relation.ts'
import { movingRect, type StaticTest } from '../search/static-tests.ts'
import { doubledCentre, Within } from '../search/within.ts'
import { prepare, spanInside } from '../shapes.ts'
import { asked } from '../words-asked.ts'
import { deckShapes } from './deck.ts'
import type { Rule } from './index.ts'
import { bodyRect } from './r2-apart.ts'

export const place: Rule = {
  post(model) {
    const { decks } = model.problem
    for (const body of model.bodies) {
      const fixers = { x: [] as number[], y: [] as number[] }
      for (const entry of body.item.place) {
        const guard = model.instance('R10', [body.item.id, ...others(entry)], () =>
          asked.place(body.item.id, entry, decks),
        )
        post(model, body, entry, guard)
        if (entry.kind === 'at') {
          fixers.x.push(guard)
          fixers.y.push(guard)
        }
        if (entry.kind === 'centred') fixers[entry.axis].push(guard)
      }
      if (model.explaining) for (const axis of ['x', 'y'] as const) onGrid(model, body, axis, fixers[axis])
    }
  },
}

const others = (p: Place): string[] => ('item' in p ? [p.item.name] : [])

function post(model: Model, body: Body, p: Place, guard: number): void {
  const { e, problem } = model
  const off = (lit: number) => e.addClause([e.not(guard), e.not(lit)])
  switch (p.kind) {
    case 'at': {
      for (const m of body.modes) if (m.deck !== p.deck || (p.turn !== undefined && m.turn !== p.turn)) off(m.lit)
      for (const axis of ['x', 'y'] as const) {
        const { v, values } = body[axis]
        const k = firstAtLeast(values, p.at[axis])
        if (values[k] !== p.at[axis]) off(body.present)
        else for (const l of [e.ge(v, k), e.lt(v, k + 1)]) e.addClause([e.not(guard), e.not(body.present), l])
      }
      return
    }
    case 'centred':
      model.addStatic(body, guard, (m) => {
        const { box } = deckShapes(problem)[m.deck]!
        const goal = p.axis === 'x' ? 2 * box.x + box.w - m.w : 2 * box.y + box.h - m.h
        return between(p.axis, Math.ceil((goal - 1) / 2), Math.floor((goal + 1) / 2))
      })
      return
    case 'edge':
      model.addStatic(body, guard, (m) => {
        const { box } = deckShapes(problem)[m.deck]!
        const goal = { left: box.x, right: box.x + box.w - m.w, back: box.y, front: box.y + box.h - m.h }[p.edge]
        return between(p.edge === 'left' || p.edge === 'right' ? 'x' : 'y', goal - p.within, goal + p.within)
      })
      return
    case 'inside': {
      const region = prepare(p.shape)
      model.addStatic(body, guard, (m) => movingRect(bodyRect(m), (x, y, w, h) => !spanInside(region, x, y, w, h, 0)))
      return
    }
    case 'near':
      anyOf(model, body, p.item, guard, (o, lit) => {
        new Within(e, doubledCentre(model, body), doubledCentre(model, o), 2, 2 * p.within, [lit])
      })
      return
    case 'beyond':
      anyOf(model, body, p.item, guard, (o, lit) => {
        const [low, high] = p.side === 'front' || p.side === 'right' ? [o, body] : [body, o]
        const axis = p.side === 'front' || p.side === 'back' ? 'y' : 'x'
        const size = low.modes.map((m) => (axis === 'x' ? m.w : m.h))
        new Relation(e, lit, model.end(low, axis, size), fixedEnd(high[axis], 0))
      })
      return
    case 'host':
      for (const m of body.modes) if (!p.item.items.includes(m.host)) off(m.lit)
      if (body.footprint.mount.kind !== 'plug-in') off(body.present)
      return
  }
}

/** All corners with one coordinate in [lo, hi]. */
function between(axis: 'x' | 'y', lo: number, hi: number): StaticTest {
  return (xl, xu, yl, yu) => {
    const [a, b] = axis === 'x' ? [xl, xu] : [yl, yu]
    if (a >= lo && b <= hi) return 1
    return b < lo || a > hi ? -1 : 0
  }
}

/** The entry holds by one of the copies that it names: one is picked, and that one is placed. */
function anyOf(model: Model, body: Body, ref: ItemRef, guard: number, hold: (other: Body, lit: number) => void): void {
  const { e } = model
  const picks = ref.items.filter((i) => i !== body.index).map((i) => ({ other: model.bodies[i]!, lit: e.newBool() }))
  e.addClause([e.not(guard), e.not(body.present), ...picks.map((k) => k.lit)])
  for (const k of picks) {
    e.addClause([e.not(k.lit), k.other.present])
    hold(k.other, k.lit)
  }
}

/** Where conflicts are explained: once what fixed an axis is dropped, the grid holds there again. */
function onGrid(model: Model, body: Body, axis: 'x' | 'y', fixers: readonly number[]): void {
  if (fixers.length === 0 || body.footprint.mount.kind === 'plug-in') return
  const { e, problem } = model
  const dropped = fixers.length === 1 ? e.not(fixers[0]!) : e.newBool()
  if (fixers.length > 1) e.addClause([dropped, ...fixers])
  model.whenFixed([body], [dropped], () => cornerOf(e, body)[axis] % problem.grid === 0)
}
