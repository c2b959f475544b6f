/** The library against published values, each with its source and status in tests/fixtures (library-reference.json, iso-fasteners.json). */
import { describe, expect, it } from 'vitest'
import fasteners from '../fixtures/iso-fasteners.json' with { type: 'json' }
import reference from '../fixtures/library-reference.json' with { type: 'json' }
import { distance, type Hole, microns, type Part, readLibrary, tiePoints } from './library.ts'

const library = readLibrary()
const parts = library.map((l) => l.part)
const part = (id: string): Part => parts.find((p) => p.id === id)!
const value = <T>(id: string): T => [...reference, ...fasteners].find((r) => r.id === id)!.value as T
const holesOf = (p: Part): readonly Hole[] => p.mount.holes ?? []
const near = (a: number, b: number) => expect(a).toBeCloseTo(b, 9)

describe('every file', () => {
  it('is named like its id, and no id occurs twice', () => {
    for (const { file, part: p } of library) expect(p.id).toBe(file)
    expect(new Set(parts.map((p) => p.id)).size).toBe(parts.length)
    expect(parts.length).toBeGreaterThanOrEqual(28)
  })

  it.each(parts.map((p) => [p.id, p] as const))(
    '%s says where its numbers come from, and measures something',
    (_, p) => {
      expect(p.format).toBe('deckwright-footprint')
      expect(p.version).toBe(1)
      expect(p.source).toMatch(
        /common practice, no source|from memory|\b(ISO|IEC) \d+|specification drawing|open \S+ librar|open (parametric|mechanical)/,
      )
      expect(Math.min(p.body.width, p.body.depth, p.body.height, p.mass)).toBeGreaterThan(0)
      for (const t of p.terminals ?? []) {
        expect(t.name, t.id).toBeTruthy()
        expect(t.at[0] >= 0 && t.at[0] <= p.body.width && t.at[1] >= 0 && t.at[1] <= p.body.depth, t.id).toBe(true)
      }
      for (const list of [p.terminals, p.corridors, p.mount.holes, p.plug?.pins])
        expect(new Set(list?.map((x) => x.id)).size).toBe(list?.length ?? 0)
      for (const c of p.corridors ?? []) {
        expect(c.why).not.toBe('')
        expect(c.z[0]).toBeLessThan(c.z[1])
      }
    },
  )

  it('covers every kind of part that the first issue asks for', () => {
    const wanted = [
      ...['breadboard-170', 'breadboard-400', 'breadboard-830', 'controller-four-hole', 'controller-long'],
      ...['board-add-on', 'controller-plug-in-45x18', 'controller-plug-in-51x21', 'computer-65x30', 'computer-85x56'],
      ...['driver-7-in-line', 'driver-2x6', 'cells-2-aa', 'cells-4-aa', 'cells-6-aa', 'cells-8-aa', 'battery-9v'],
      ...['pack-lithium-flat', 'head-micro-screwed', 'head-micro-drop-in', 'head-standard-screwed'],
      ...['head-standard-drop-in', 'sensor-infrared', 'sensor-ultrasonic', 'slide-switch', 'terminal-block'],
      ...['voltage-regulator', 'radio-plug-in', 'display-plug-in', 'buzzer-plug-in', 'humidity-board', 'lamp-mast'],
    ]
    expect(wanted.filter((id) => !part(id))).toEqual([])
    const headers = parts.filter((p) => p.id.startsWith('header-')).map((p) => p.plug!.pins.length)
    expect([Math.min(...headers), Math.max(...headers)]).toEqual([4, 20])
  })

  it('lets nothing hang over a controller, and keeps room for data plug, power plug and reset finger', () => {
    const controllers = parts.filter((p) => /^(controller|computer)-/.test(p.id))
    expect(controllers.length).toBe(6)
    for (const p of controllers) {
      expect(p.above, p.id).toBe('open')
      expect(
        p.corridors!.some((c) => c.id.startsWith('data-plug')),
        p.id,
      ).toBe(true)
    }
    for (const id of ['controller-four-hole', 'controller-long'])
      expect(part(id).corridors!.map((c) => c.id)).toEqual(['data-plug', 'power-plug', 'reset-finger'])
    expect(part('slide-switch').corridors!.some((c) => c.id === 'finger')).toBe(true)
  })
})

describe('breadboards', () => {
  it.each([170, 400, 830])('%i: exact count, strips of five either side of the gap, pitch, outline', (n) => {
    const p = part(`breadboard-${n}`)
    const points = tiePoints(p)
    expect(points.length).toBe(value<number>(`bb-${n}-count`))
    expect(new Set(points.map((t) => `${t.x},${t.y}`)).size).toBe(n)
    expect(p.breadboard!.pitch).toBe(value('bb-pitch'))
    for (const t of points) {
      expect(t.x > 0 && t.x < microns(p.body.width)).toBe(true)
      expect(t.y > 0 && t.y < microns(p.body.depth)).toBe(true)
    }
    const strips = new Map<string, number>()
    for (const t of points) strips.set(t.strip, (strips.get(t.strip) ?? 0) + 1)
    expect(new Set(strips.values())).toEqual(new Set([value<number>('bb-group')]))
    const fives = p.breadboard!.blocks.filter((b) => b.strip === 'column')
    expect(fives.length).toBe(2)
    near(fives[1]!.at[1] - (fives[0]!.at[1] + 4 * 2.54), value('bb-centre-gap'))
    expect(p.above).toBe(25)
    // The ranges stand in the conditions of bb-N-outline; it says never to assume an exact size.
    const range = { 170: [45, 47, 34, 35.5], 400: [82, 84, 54, 55.5], 830: [165, 175, 54, 67] }[n]!
    expect(p.body.width >= range[0]! && p.body.width <= range[1]!).toBe(true)
    expect(p.body.depth >= range[2]! && p.body.depth <= range[3]!).toBe(true)
  })

  it.each([
    [400, 25],
    [830, 50],
  ])('%i: four rails of %i in groups of five, one free place between groups', (n, each) => {
    const rails = part(`breadboard-${n}`).breadboard!.blocks.filter((b) => b.strip === 'row')
    const rows = [...new Set(rails.map((b) => b.at[1]))]
    expect(rows.length).toBe(4)
    for (const v of rows) {
      const groups = rails.filter((b) => b.at[1] === v).sort((a, b) => a.at[0] - b.at[0])
      expect(groups.reduce((sum, b) => sum + b.columns * b.rows, 0)).toBe(each)
      for (const [i, g] of groups.slice(1).entries()) near(g.at[0] - groups[i]!.at[0], 6 * 2.54)
    }
  })
})

describe('boards', () => {
  const pairs = (at: readonly (readonly [number, number])[]) =>
    at.flatMap((a, i) => at.slice(i + 1).map((b) => distance(a, b)))

  it.each([
    ['controller-four-hole', 'mcu-common-outline', 'mcu-common-holes'],
    ['board-add-on', 'addon-outline', 'addon-holes'],
  ])('%s: outline and all six hole distances of the reference', (id, outline, holes) => {
    const p = part(id)
    expect([p.body.width, p.body.depth]).toEqual(value(outline))
    const got = pairs(holesOf(p).map((h) => h.at))
    const want = pairs(value<[number, number][]>(holes))
    expect(got.length).toBe(6)
    for (const [i, d] of got.entries()) near(d, want[i]!)
  })

  it('agrees with the printed distances of both boards', () => {
    const at = holesOf(part('controller-four-hole')).map((h) => h.at)
    const printed = Object.values(value<Record<string, number>>('mcu-common-hole-distances'))
    for (const [i, d] of pairs(at).entries()) expect(Math.abs(d - printed[i]!)).toBeLessThanOrEqual(1e-4)
    const addOn = holesOf(part('board-add-on')).map((h) => h.at)
    expect(Math.max(...pairs(addOn))).toBeCloseTo(value('addon-diagonal'), 4)
    for (const h of holesOf(part('board-add-on'))) expect(h.land).toBe(value('addon-hole-land'))
  })

  it.each([
    ['controller-long', 'mcu-long-outline'],
    ['controller-plug-in-45x18', 'board-dip-18x45'],
    ['controller-plug-in-51x21', 'board-21x51'],
    ['computer-85x56', 'board-56x85'],
    ['computer-65x30', 'board-65x30'],
  ])('%s has the outline of %s', (id, ref) => {
    expect([part(id).body.width, part(id).body.depth]).toEqual(value(ref))
  })
})

describe('screws', () => {
  const holes = parts.flatMap((p) => holesOf(p).map((h) => ({ id: p.id, h })))

  it('have deck holes of ISO 273 medium and lands of at least an ISO 7089 washer', () => {
    expect(holes.length).toBeGreaterThan(50)
    for (const { id, h } of holes) {
      expect(h.diameter, id).toBe(value(`iso273-${h.screw}-medium`))
      expect(h.land, id).toBeGreaterThanOrEqual(value<number>(`iso7089-${h.screw}-od`))
    }
  })

  it('keep their own lands apart and a 2 mm web to their own holes and cut-out', () => {
    for (const p of parts)
      for (const [i, a] of holesOf(p).entries()) {
        for (const b of holesOf(p).slice(i + 1)) {
          expect(distance(a.at, b.at), p.id).toBeGreaterThanOrEqual((a.land! + b.land!) / 2)
          expect(distance(a.at, b.at) - (a.diameter + b.diameter) / 2, p.id).toBeGreaterThanOrEqual(2)
        }
        if (!p.mount.cutout) continue
        const [u, v, w, h] = p.mount.cutout
        const dx = Math.max(u - a.at[0], 0, a.at[0] - u - w)
        const dy = Math.max(v - a.at[1], 0, a.at[1] - v - h)
        expect(Math.hypot(dx, dy) - a.diameter / 2, p.id).toBeGreaterThanOrEqual(2)
      }
  })
})

describe('packs and heads', () => {
  it.each([
    ['cells-2-aa', 2, 1],
    ['cells-4-aa', 4, 1],
    ['cells-6-aa', 3, 2],
    ['cells-8-aa', 4, 2],
  ])('%s: bays larger than the largest cell (IEC 60086-2), reached by the corridor', (id, across, layers) => {
    const [diameter, length] = value<[number, number]>('r6-max')
    const p = part(id)
    const change = p.corridors!.find((c) => c.id === 'change-cells')!
    const [u, v, w, d] = change.shape.rect!
    expect(w).toBeGreaterThan(across * diameter)
    expect(d).toBeGreaterThan(length)
    expect(p.body.height).toBeGreaterThan(layers * diameter)
    expect(u >= 0 && v >= 0 && u + w <= p.body.width && v + d <= p.body.depth).toBe(true)
    expect(change.z[0]).toBeGreaterThanOrEqual(p.body.height)
  })

  it('holds the largest 9 V battery (IEC 60086-2)', () => {
    const [l, w, h] = value<[number, number, number]>('6lr61-max')
    const [, , cw, cd] = part('battery-9v').corridors!.find((c) => c.id === 'change-battery')!.shape.rect!
    expect(cw).toBeGreaterThan(l)
    expect(cd).toBeGreaterThan(w)
    expect(part('battery-9v').body.height).toBeGreaterThan(h)
  })

  it('drives no screw under the lithium pack', () => {
    expect(part('pack-lithium-flat').mount.kind).toBe('strap')
  })

  it('has heads of both sizes, screwed and dropped in, with cut-outs that a servo body passes', () => {
    const heads = parts.filter((p) => p.kind === 'head')
    expect(heads.map((p) => p.kind)).toEqual(['head', 'head', 'head', 'head'])
    const kinds = ['head-micro', 'head-standard'].flatMap((s) =>
      heads.filter((p) => p.id.startsWith(s)).map((p) => p.mount.kind),
    )
    expect(kinds).toEqual(['drop-in', 'screw', 'drop-in', 'screw'])
    for (const [id, ref] of [
      ['head-micro-drop-in', 'servo-micro-body'],
      ['head-standard-drop-in', 'servo-standard-body'],
    ] as const) {
      const [length, width] = value<[number, number]>(ref)
      expect(part(id).mount.cutout![2]).toBeGreaterThan(length)
      expect(part(id).mount.cutout![3]).toBeGreaterThan(width)
    }
    for (const p of heads) expect(p.head!.reach, p.id).toBeGreaterThan(p.head!.tail)
  })
})

describe('plug-in parts', () => {
  /** All seats on a board by trying every turn and tie point: every pin on a point, no two on one strip. Plain on purpose. */
  const seats = (p: Part, board: Part): number => {
    const points = new Map(tiePoints(board).map((t) => [`${t.x},${t.y}`, t.strip]))
    const [w, d] = [microns(p.body.width), microns(p.body.depth)]
    const turns = [0, 1, 2, 3].map((turn) =>
      p.plug!.pins.map(({ at }) => {
        const [u, v] = [microns(at[0]), microns(at[1])]
        return (
          [
            [u, v],
            [d - v, u],
            [w - u, d - v],
            [v, w - u],
          ] as const
        )[turn]!
      }),
    )
    let count = 0
    for (const pins of turns)
      for (const t of tiePoints(board)) {
        const hit = pins.map(([x, y]) => points.get(`${t.x + x - pins[0]![0]},${t.y + y - pins[0]![1]}`))
        if (!hit.includes(undefined) && new Set(hit).size === hit.length) count++
      }
    return count
  }
  const plugs = parts.filter((p) => p.mount.kind === 'plug-in')

  it.each(plugs.map((p) => [p.id, p] as const))('%s has a seat on 400 points, its pins in its body', (_, p) => {
    for (const { at } of p.plug!.pins) {
      expect(at[0] > 0 && at[0] < p.body.width).toBe(true)
      expect(at[1] > 0 && at[1] < p.body.depth).toBe(true)
    }
    expect(seats(p, part('breadboard-400'))).toBeGreaterThan(0)
  })

  it('finds no seat for two rows one pitch apart: every column would join two pins', () => {
    const close = part('header-2x4')
    const pins = close.plug!.pins.map((pin, i) => ({
      ...pin,
      at: [1.27 + 2.54 * (i % 4), i < 4 ? 1.27 : 3.81] as const,
    }))
    expect(seats({ ...close, plug: { pins } }, part('breadboard-400'))).toBe(0)
  })

  it('finds a seat on 170 points for every part that is no longer than its 17 columns', () => {
    const [fits, too] = [
      plugs.filter((p) => seats(p, part('breadboard-170')) > 0),
      ['header-1x20', 'controller-plug-in-51x21'],
    ]
    expect(
      plugs
        .filter((p) => !fits.includes(p))
        .map((p) => p.id)
        .sort(),
    ).toEqual(too.sort())
  })

  it('gives the drivers 7 pins in one row, and 2 × 6 pins across the gap', () => {
    const line = part('driver-7-in-line').plug!.pins
    expect(new Set(line.map((p) => p.at[1])).size).toBe(1)
    expect(line.length).toBe(7)
    const double = part('driver-2x6').plug!.pins
    const rows = [...new Set(double.map((p) => p.at[1]))].sort((a, b) => a - b)
    expect(rows.map((v) => double.filter((p) => p.at[1] === v).length)).toEqual([6, 6])
    near(rows[1]! - rows[0]!, value('bb-centre-gap'))
  })
})
