/** The smallest deck and one more: by hand, on the demo, and against brute force. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check, type Problem, solve } from '../../solver/index.ts'
import { mm, toMm, um } from '../../solver/units.ts'
import { applyChanges, oneMore, resized, type SmallestDeck, sizing, smallestDeck } from '../../solver/what-if/index.ts'
import { lostOn, resizedDeck, sizeOf, withOutline } from '../../solver/what-if/outline.ts'
import { readProject, toProblem } from '../../src/model/index.ts'
import { deck, item, part, poly, problem, pt, rect, wire } from './check-kit.ts'
import { brute } from './oracle/brute.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, ruleMixes, tiny } from './oracle/mixes.ts'

const glued = { kind: 'adhesive' } as const
const on0 = { decks: [0], turns: [0] as const }
const box = part(10, 10, 5, { mount: glued })

function demo(name: string, variant: string): Problem {
  const r = readProject(readFileSync(join(import.meta.dirname, `../../demo-data/${name}.json`)), name, loadLibrary())
  if (!r.ok) throw new Error('the demo cannot be read')
  return toProblem(r.value, variant, loadLibrary())
}

function legal(p: Problem, r: SmallestDeck): void {
  if (r.status !== 'found') throw new Error(r.status)
  expect(check(applyChanges({ problem: p, pins: [] }, r.changes).problem, r.placements)).toEqual([])
}

describe('an outline with its far edge moved', () => {
  it('grows and shrinks rectangles and polygons, and keeps rounded corners', () => {
    expect(resized(rect(5, 5, 20, 10, 2), mm(3), mm(-4))).toEqual(rect(5, 5, 16, 13, 2))
    expect(resized(rect(0, 0, 20, 10, 4), mm(-3), mm(0))).toBeUndefined()
    const p = poly([0, 2, 0.4], [2, 0], [18, 0, 0.4], [20, 2], [20, 10], [0, 10])
    expect(resized(p, mm(1), mm(5))).toEqual(poly([0, 2, 0.4], [2, 0], [23, 0, 0.4], [25, 2], [25, 11], [0, 11]))
    expect(resized(p, mm(0), mm(-16))).toBeUndefined()
    expect(resized({ kind: 'circle', cx: mm(0), cy: mm(0), r: mm(9) }, mm(1), mm(0))).toBeUndefined()
  })

  it('keeps arcs across the middle as they are, with a straight piece between, and is as large as it says', () => {
    const size = (s: ReturnType<typeof resized>) => s && sizeOf(s)
    // a slot 60 × 20 with round ends, and a D
    const slot = poly([10, 0], [50, 0, 1], [50, 20], [10, 20, 1])
    expect(size(resized(slot, mm(10), mm(0)))).toEqual({ length: 30_000, width: 60_000 })
    expect(size(resized(slot, mm(0), mm(-7)))).toEqual({ length: 20_000, width: 53_000 })
    // shorter, the ends would be other arcs
    expect(resized(slot, mm(-1), mm(0))).toBeUndefined()
    const dee = poly([0, 0], [10, 0, 1], [10, 40], [0, 40])
    expect(size(resized(dee, mm(5), mm(0)))).toEqual({ length: 45_000, width: 30_000 })
    const wide = size(resized(dee, mm(0), mm(5)))!
    expect(Math.abs(wide.width - 35_000)).toBeLessThanOrEqual(1)
  })

  it('has no edges that cross, and is no larger than a file may say', () => {
    // the slanted bottom meets the notch when the right side comes near
    const slant = poly([0, 0], [100, 50], [100, 80], [42, 80], [42, 24], [38, 24], [38, 80], [0, 80])
    expect(resized(slant, mm(0), mm(-12))).toBeDefined()
    expect(resized(slant, mm(0), mm(-30))).toBeUndefined()
    expect(resized(rect(0, 0, 6000, 10), mm(0), mm(4000))).toBeDefined()
    expect(resized(rect(0, 0, 6000, 10), mm(0), mm(4001))).toBeUndefined()
  })

  it('still carries what is cut through it, also where it grows', () => {
    // the notch's right wall moves through the opening
    const notched = poly([0, 0], [60, 0], [60, 40], [40, 40], [40, 20], [25, 20], [25, 40], [0, 40])
    const opening = { id: 'cable', shape: rect(44, 25, 8, 8), mayCover: false }
    const p = problem([item('a', part(65, 10, 5, { mount: glued }), on0)], {
      grid: mm(1),
      decks: [deck(notched, { openings: [opening] })],
    })
    expect(resizedDeck(p, 0, mm(0), mm(4))).toBeDefined()
    expect(resizedDeck(p, 0, mm(0), mm(5))).toBeUndefined()
    expect(smallestDeck(p, 'width').status).toBe('none')
    expect(smallestDeck({ ...p, decks: [deck(notched)] }, 'width')).toMatchObject({
      to: { width: 65_000 },
      smallest: true,
    })
  })

  it('has no narrow notch moved through a rounded opening, between the corners of both', () => {
    const slit = poly([0, 0], [100, 0], [100, 50], [63, 50], [63, 10], [60, 10], [60, 50], [0, 50])
    const opening = { id: 'o', shape: rect(70, 20, 20, 10, 1), mayCover: false }
    const p = problem([], { decks: [deck(slit, { openings: [opening] })] })
    const fine = [6, 7, 15, 17, 29, 30].map((k) => resizedDeck(p, 0, mm(0), mm(k)) !== undefined)
    // its right wall reaches x = 70 with 7 mm, its left one leaves 90 with 30
    expect(fine).toEqual([true, true, false, false, false, true])
  })

  it('may pass over a hole on the way to a smaller size, and is smallest only when that was asked too', () => {
    const notched = poly([0, 0], [100, 0], [100, 50], [65, 50], [65, 10], [60, 10], [60, 50], [0, 50])
    const right = { kind: 'edge' as const, edge: 'right' as const, within: mm(0) }
    const room = { kind: 'inside' as const, shape: rect(60, 0, 24, 50) }
    const p = problem([item('a', part(20, 8, 5, { mount: glued }), { ...on0, place: [right, room] })], {
      grid: mm(1),
      decks: [deck(notched, { holes: [{ id: 'h', at: pt(55, 30), diameter: mm(3) }] })],
    })
    // from 97 to 89 mm the hole hangs in the notch; from 84 mm down the part has room
    expect(smallestDeck(p, 'width')).toMatchObject({ status: 'found', to: { width: 80_000 }, smallest: true })
  })

  it('tells what would no longer lie on the deck', () => {
    const d = deck(rect(0, 0, 40, 40), {
      openings: [{ id: 'o', shape: rect(30, 5, 8, 4), mayCover: true }],
      holes: [{ id: 'h', at: pt(35, 30), diameter: mm(4) }],
    })
    const p = problem([], { decks: [d], exits: [{ id: 'x', deck: 0, at: pt(36.5, 1), diameter: mm(2) }] })
    expect(lostOn(p, 0, rect(0, 0, 38, 40))).toEqual([])
    expect(lostOn(p, 0, rect(0, 0, 37.499, 40))).toEqual(['o', 'x'])
    expect(lostOn(p, 0, rect(0, 0, 36.9, 40))).toEqual(['o', 'x', 'h'])
  })
})

describe('the smallest deck by hand', () => {
  const three = (w: number, h: number, more: Partial<Problem> = {}) =>
    problem([item('a', box, on0), item('b', box, on0), item('c', box, { ...on0, required: false })], {
      grid: mm(1),
      decks: [deck(rect(0, 0, w, h))],
      ...more,
    })

  it('shrinks to what the items need, and proves it', () => {
    const p = three(50, 15)
    const w = smallestDeck(p, 'width')
    expect(w).toMatchObject({ status: 'found', to: { length: 15000, width: 20000 }, below: 'proven', smallest: true })
    legal(p, w)
    const all = smallestDeck(p, 'width', { all: true })
    expect(all).toMatchObject({ to: { width: 30000 }, smallest: true })
  })

  it('grows where it must, and says where nothing helps', () => {
    const p = three(12, 12)
    expect(smallestDeck(p, 'length')).toMatchObject({ to: { length: 20000, width: 12000 }, smallest: true })
    // 8 mm are too narrow for 10 mm, however long the deck.
    expect(smallestDeck(three(8, 12), 'length')).toMatchObject({ status: 'none', upTo: { length: 24000, width: 8000 } })
  })

  it('keeps the proportion, in steps of the longer side', () => {
    // 40 × 20: two squares side by side need 20 × 10.
    expect(smallestDeck(three(40, 20), 'both')).toMatchObject({ to: { length: 10000, width: 20000 }, smallest: true })
  })

  it('stops where something on the deck would be lost, and names it', () => {
    const p = three(50, 15, { exits: [{ id: 'lead', deck: 0, at: pt(44, 5) }] })
    expect(smallestDeck(p, 'width')).toMatchObject({ to: { width: 44000 }, below: 'stopped', stops: ['lead'] })
  })

  it('is not fooled by items that follow the far edge', () => {
    // b hangs on the right edge and must stay near a, which stands still: it fits up to 35 mm, and not on wider decks.
    const at = { kind: 'at' as const, deck: 0, at: pt(0, 0), turn: 0 as const }
    const right = { kind: 'edge' as const, edge: 'right' as const, within: mm(0) }
    const near = { kind: 'near' as const, item: { name: 'a', items: [0] }, within: mm(25) }
    const p = problem([item('a', box, { ...on0, place: [at] }), item('b', box, { ...on0, place: [right, near] })], {
      grid: mm(1),
      decks: [deck(rect(0, 0, 60, 10))],
    })
    expect(solve(p).status).toBe('infeasible')
    expect(smallestDeck(p, 'width')).toMatchObject({ to: { width: 20000 }, smallest: true })
    // nowhere: near a, and at most 9 mm from it
    const never = { ...near, within: mm(9) }
    const none = {
      ...p,
      items: p.items.map((i, k) => (k === 1 ? { ...i, place: [right, never] } : i)),
    }
    expect(smallestDeck(none, 'width')).toMatchObject({ status: 'none', upTo: { width: 120000 } })
    const small = { ...p, decks: [deck(rect(0, 0, 33, 10))] }
    expect(smallestDeck(small, 'width')).toMatchObject({ to: { width: 20000 }, smallest: true })
  })

  it('asks sizes one by one where a head of a deck above swings under it', () => {
    // the tail swings through the lower plate from y = 37 mm on, and what stands there is 35 mm deep
    const head = part(10, 10, 5, {
      mount: glued,
      head: { pivot: pt(5, 5), pan: [-90, 90], reach: mm(12), tail: mm(6), z: [mm(-42), mm(10)] },
    })
    const decks = (length: number) => [
      { ...deck(rect(0, 0, 20, length)), z: mm(40) },
      { ...deck(rect(5, 38, 10, 10)), id: 'up', z: mm(80) },
    ]
    const items = [item('long', part(20, 35, 5, { mount: glued }), on0), item('head', head, { decks: [1], turns: [0] })]
    const at = (length: number) => problem(items, { grid: mm(1), decks: decks(length) })
    const r = smallestDeck(at(30), 'length')
    expect(r).toMatchObject({ status: 'found', to: { length: 35_000 }, smallest: true })
    legal(at(30), r)
    expect([34, 35, 37, 38, 60].map((l) => solve(at(l)).status === 'infeasible')).toEqual([
      true,
      false,
      false,
      true,
      true,
    ])
  })

  it('knows no deck by another name, and no round one', () => {
    expect(() => smallestDeck(three(20, 20), 'width', { deck: 'none' })).toThrow(RangeError)
    const round = { ...three(20, 20), decks: [deck({ kind: 'circle', cx: mm(0), cy: mm(0), r: mm(40) })] }
    expect(smallestDeck(round, 'width').status).toBe('no such size')
  })

  it('claims nothing without time, and stops when told to', () => {
    expect(smallestDeck(three(50, 15), 'width', { time: 0 }).status).toBe('unknown')
    const signal = { aborted: false }
    const run = sizing(demo('shelf-reader', 'new-leads'), 'length', { signal })
    run.next()
    signal.aborted = true
    for (;;) {
      const next = run.next()
      if (!next.done) continue
      expect(['unknown', 'found']).toContain(next.value.status)
      if (next.value.status === 'found') expect(next.value.below).not.toBe('proven')
      break
    }
  })
})

describe('the smallest deck against brute force', () => {
  const n = LONG ? 600 : 16
  it(`agrees on ${n} random decks`, { timeout: LONG ? 3_600_000 : 180_000 }, () => {
    const complaints: string[] = []
    let proven = 0
    let none = 0
    for (let s = 0; s < n; s++) {
      const mix = s % 3 === 0 ? tiny : s % 3 === 1 ? ruleMixes.R2 : ruleMixes.R10
      const p = randomDeck(90_000 + s, { ...mix, items: [1, 3], deck: [6, 20] })
      const way = s % 2 === 0 ? 'length' : 'width'
      const r = smallestDeck(p, way, { time: 10_000 })
      const fitsAt = (by: number): boolean | undefined => {
        const outline = resized(p.decks[0]!.outline, um(way === 'length' ? by : 0), um(way === 'width' ? by : 0))
        if (!outline) return false
        const before = lostOn(p, 0, p.decks[0]!.outline)
        if (by < 0 && lostOn(p, 0, outline).some((id) => !before.includes(id))) return false
        const a = brute(withOutline(p, 0, outline), { limit: 60_000, feasibilityOnly: true })
        return a.status === 'too large' ? undefined : a.status === 'optimal'
      }
      if (r.status === 'found') {
        legal(p, r)
        const by = r.to[way] - r.from[way]
        if (fitsAt(by) === false) complaints.push(`seed ${s}: does not fit at ${toMm(um(by))}`)
        if (r.below === 'proven' && fitsAt(by - 1000) === true) complaints.push(`seed ${s}: 1 mm less fits`)
        if (!r.smallest) continue
        proven++
        for (let k = by - 1000; r.from[way] + k > 0; k -= 1000)
          if (fitsAt(k) === true) complaints.push(`seed ${s}: fits at ${toMm(um(k))}, not only at ${toMm(um(by))}`)
      } else if (r.status === 'none') {
        none++
        for (let k = 0; k <= r.upTo[way] - r.from[way]; k += 1000)
          if (fitsAt(k) === true) complaints.push(`seed ${s}: fits at ${toMm(um(k))}`)
      }
    }
    expect(complaints).toEqual([])
    expect(proven).toBeGreaterThan(n / 4)
    expect(none).toBeGreaterThan(0)
  })
})

describe('the shelf reader', () => {
  const p = demo('shelf-reader', 'new-leads')

  it('fits on a shorter deck, proven', () => {
    const r = smallestDeck(p, 'length', { time: 60_000 })
    legal(p, r)
    expect(r).toMatchObject({ status: 'found', below: 'proven', smallest: true })
    if (r.status !== 'found') return
    const less = resized(p.decks[0]!.outline, um(r.to.length - r.from.length - 1000), mm(0))!
    expect(solve({ ...withOutline(p, 0, less), objective: [] }).status).toBe('infeasible')
  }, 90_000)
})

describe('one more', () => {
  const plate = (w: number, count: number, required = true) =>
    problem(
      Array.from({ length: count }, (_, k) =>
        item(count === 1 ? 'b' : `b#${k + 1}`, box, { ...on0, base: 'b', required }),
      ),
      { grid: mm(1), decks: [deck(rect(0, 0, w, 10))] },
    )

  it('says that it fits, that it needs room, or that not even the rest fits', () => {
    expect(oneMore(plate(30, 2), 'b')).toMatchObject({ status: 'fits', placed: 2 })
    const r = oneMore(plate(25, 2), 'b')
    expect(r).toMatchObject({ status: 'needs', placed: 2 })
    if (r.status === 'needs') expect(r.loosenings[0]!.text).toBe('Deck main 5 mm wider (25 → 30 mm).')
    expect(oneMore(plate(15, 2), 'b').status).toBe('infeasible')
    expect(oneMore(plate(30, 2), 'b', { time: 0 }).status).toBe('unknown')
    expect(() => oneMore(plate(30, 2), 'c')).toThrow(RangeError)
  })

  it('counts optional copies that fit before it asks for another', () => {
    const r = oneMore(plate(25, 4, false), 'b')
    expect(r).toMatchObject({ status: 'needs', placed: 2, before: [] })
    expect(oneMore(plate(45, 4, false), 'b')).toMatchObject({ status: 'needs', placed: 4 })
    expect(oneMore(plate(55, 4, false), 'b')).toMatchObject({ status: 'fits', placed: 4 })
  })

  it('tries each copy that something tells apart from the others', () => {
    // the first copy's lead is so short that it can stand nowhere; the second fits
    const f = part(10, 10, 2, { mount: { kind: 'adhesive' }, terminals: { t: [0, 0] } })
    const copies = [1, 2].map((k) => item(`b#${k}`, f, { ...on0, base: 'b', required: false, value: 0 }))
    const big = item('y', part(20, 10, 2, { mount: { kind: 'adhesive' } }), { ...on0, required: false })
    const p = problem([...copies, big], {
      grid: mm(5),
      decks: [deck(rect(0, 0, 20, 10))],
      exits: [{ id: 'x', deck: 0, at: pt(0, 90) }],
      wires: [
        wire(
          { kind: 'exit', exit: 0 },
          { kind: 'item', ref: { name: 'b#1', items: [0] }, terminal: 't', at: pt(0, 0) },
          { maxLength: mm(5) },
        ),
      ],
    })
    expect(oneMore(p, 'b')).toMatchObject({ status: 'needs', placed: 1 })
  })

  it('counts copies that are held among those that fit', () => {
    const held = (x: number, k: number) => ({ item: k, deck: 0, at: pt(x, 0), turn: 0 as const })
    // the last two are held; three of five fit, a fourth needs 40 mm
    const pins = [held(0, 3), held(10, 4)]
    const r = oneMore(plate(35, 5, false), 'b', { pins })
    expect(r).toMatchObject({ status: 'needs', placed: 3 })
    if (r.status === 'needs') expect(r.loosenings[0]!.text).toBe('Deck main 5 mm wider (35 → 40 mm).')
    // a copy that is added moves what follows in the list, and what is held there
    const p = plate(30, 1)
    const two = { ...p, items: [...p.items, item('c', box, { ...on0 })] }
    const more = oneMore(two, 'b', { pins: [held(10, 1)] })
    if (more.status !== 'fits') throw new Error(more.status)
    expect(more.placements.map((q) => [q.item, q.at.x / 1000]).sort()).toEqual([
      [0, expect.any(Number)],
      [1, expect.any(Number)],
      [2, 10],
    ])
  })

  it('agrees with brute force', { timeout: LONG ? 3_600_000 : 120_000 }, () => {
    const complaints: string[] = []
    const count = { fits: 0, needs: 0, infeasible: 0, unknown: 0 }
    for (let s = 0; s < (LONG ? 500 : 16); s++) {
      const p = randomDeck(95_000 + s, { ...(s % 2 ? tiny : ruleMixes.R2), items: [2, 3], counted: 0.6 })
      const base = p.items[s % p.items.length]!.base
      const r = oneMore(p, base, { time: 10_000 })
      count[r.status]++
      const must = (q: Problem, k: number): boolean | undefined => {
        const mine = q.items.flatMap((i, x) => (i.base === base ? [x] : [])).slice(0, k)
        const items = q.items.map((i, x) => (mine.includes(x) ? { ...i, required: true } : i))
        const a = brute({ ...q, items }, { limit: 60_000, feasibilityOnly: true })
        return a.status === 'too large' ? undefined : a.status === 'optimal'
      }
      if (r.status === 'unknown') complaints.push(`seed ${s}: no answer`)
      if (r.status === 'infeasible' && must(p, 0) === true) complaints.push(`seed ${s}: it fits`)
      if (r.status === 'infeasible' || r.status === 'unknown') continue
      const next = applyChanges({ problem: p, pins: [] }, r.before).problem
      if (must(p, r.placed) === false) complaints.push(`seed ${s}: not even ${r.placed} fit`)
      const one = must(next, r.placed + 1)
      if (one !== undefined && one !== (r.status === 'fits'))
        complaints.push(`seed ${s}: ${r.status}, but one more: ${one}`)
    }
    expect(complaints).toEqual([])
    expect(count.fits).toBeGreaterThan(3)
    expect(count.needs).toBeGreaterThan(3)
  })
})
