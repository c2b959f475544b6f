/**
 * What stands on a deck has no more area than the deck, also after every side has been scaled conservatively: sides over
 * W − ε count as W, sides under ε as nothing (dual feasible functions, Fekete & Schepers 2004). Implied by R1 and R2, and
 * seen long before any two bodies meet.
 */
import { deckShapes } from '../rules/deck.ts'
import { TRUE } from '../search/engine.ts'
import { Linear } from '../search/linear.ts'
import type { Body, Mode, Model } from '../search/model.ts'

/**
 * The most that Σ coef·[lit] can be by area alone: the decks' room filled with the worthiest first, the last one in part
 * (Dantzig 1957). `worth`: by body, what placing it adds. Infinite where some body has no part in it.
 */
export function mostByArea(model: Model, worth: ReadonlyMap<Body, number>): number {
  const { problem, e } = model
  const gap = problem.itemClearance
  let room = 0
  for (const d of deckShapes(problem))
    room +=
      Math.max(0, d.box.w - 2 * problem.edgeClearance + gap) * Math.max(0, d.box.h - 2 * problem.edgeClearance + gap)
  let most = 0
  const open: { readonly area: number; readonly worth: number }[] = []
  for (const b of model.bodies) {
    const counts = b.footprint.mount.kind !== 'plug-in' && Object.values(b.item.overhang).every((o) => o === 0)
    const area = counts ? (b.footprint.width + gap) * (b.footprint.depth + gap) : 0
    const value = worth.get(b) ?? 0
    if (e.isFalse(b.present)) continue
    if (e.isTrue(b.present)) {
      room -= area
      most += value
    } else if (value > 0) open.push({ area, worth: value })
  }
  open.sort((p, q) => q.worth * p.area - p.worth * q.area)
  for (const o of open) {
    if (o.area <= room) {
      room -= o.area
      most += o.worth
    } else {
      most += o.area > 0 ? (o.worth * Math.max(0, room)) / o.area : o.worth
      break
    }
  }
  return most
}

/** The most scales tried along one axis. */
const SCALES = 8

interface Piece {
  readonly body: Body
  readonly lit: number
  /** Sizes with clearance, one a turn that the body may have here. */
  readonly sizes: readonly { readonly w: number; readonly h: number }[]
}

export function roomOn(model: Model): void {
  const { problem, e } = model
  const gap = problem.itemClearance
  deckShapes(problem).forEach((d, index) => {
    const pieces = model.bodies.flatMap((body): Piece[] => {
      const modes = body.modes.filter((m) => m.deck === index)
      const out = Object.values(body.item.overhang).some((o) => o > 0)
      if (modes.length === 0 || body.footprint.mount.kind === 'plug-in' || out) return []
      return [
        { body, lit: e.not(model.group(body, modes)), sizes: modes.map((m: Mode) => ({ w: m.w + gap, h: m.h + gap })) },
      ]
    })
    const W = d.box.w - 2 * problem.edgeClearance + gap
    const H = d.box.h - 2 * problem.edgeClearance + gap
    const seen = new Set<string>()
    for (const ex of scales(
      W,
      pieces.flatMap((p) => p.sizes.map((s) => s.w)),
    ))
      for (const ey of scales(
        H,
        pieces.flatMap((p) => p.sizes.map((s) => s.h)),
      )) {
        const terms = pieces.flatMap((p) => {
          // whichever way it is turned, it takes at least this much
          const coef = Math.min(...p.sizes.map((s) => scaled(s.w, W, ex) * scaled(s.h, H, ey)))
          return coef > 0 ? [{ lit: p.lit, coef }] : []
        })
        const sum = terms.reduce((n, t) => n + t.coef, 0)
        const key = terms.map((t) => `${t.lit}:${t.coef}`).join()
        if (sum <= W * H || seen.has(key)) continue
        seen.add(key)
        new Linear(e, terms, [], sum - W * H, TRUE)
      }
  })
}

/** A side after scaling by ε: nothing below it, all of `whole` above `whole` − ε. */
const scaled = (side: number, whole: number, epsilon: number): number =>
  side > whole - epsilon ? whole : side < epsilon ? 0 : side

/** ε worth trying: 0 (plain area), and just over each side that is at most half. */
function scales(whole: number, sides: readonly number[]): number[] {
  const halves = [...new Set(sides.flatMap((s) => (s <= whole / 2 ? [s, s + 1] : [whole - s + 1])))]
    .filter((s) => s > 0 && s <= whole / 2)
    .sort((a, b) => a - b)
  const step = Math.max(1, Math.ceil(halves.length / SCALES))
  return [0, ...halves.filter((_, i) => i % step === 0)]
}
