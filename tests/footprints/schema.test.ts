/** The footprint file, field by field (contract §2), and the contour test against brute force. Expected values by hand. */

import { describe, expect, it } from 'vitest'
import { shapeToSolver } from '../../footprints/fields.ts'
import { clip, formatProblem, nearest, oneOf, pathText, snippet } from '../../footprints/problems.ts'
import { type FootprintFile, footprintToSolver, kindOf, readFootprintValue } from '../../footprints/schema.ts'
import { simple, type Vertex } from '../../solver/shapes-simple.ts'
import fc from '../seeded.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const box: FootprintFile = { id: 'box', body: { width: 20, depth: 10, height: 5 }, mount: { kind: 'adhesive' } }
const problems = (f: unknown) => {
  const r = readFootprintValue(f, 'f.json')
  return r.ok ? [] : r.problems.map((p) => `${p.path}: ${p.expected}`)
}

describe('a footprint', () => {
  it('fills in what the file leaves out', () => {
    expect(problems(box)).toEqual([])
    expect(footprintToSolver(box)).toEqual({
      id: 'box',
      name: 'box',
      kind: 'part',
      width: 20000,
      depth: 10000,
      height: 5000,
      mass: 0,
      mount: { kind: 'adhesive' },
      above: 0,
      corridors: [],
      terminals: [],
    })
  })

  it('carries every field', () => {
    const f: FootprintFile = {
      format: 'deckwright-footprint',
      version: 1,
      id: 'all',
      name: 'all of it',
      source: 'invented',
      kind: 'head',
      body: { width: 24.0004, depth: 12, height: 50 },
      mass: 44.5,
      mount: {
        kind: 'drop-in',
        cutout: [1, 1, 22, 10],
        holes: [{ id: 'a', at: [-2, 6], diameter: 2.2, land: 5, screw: 'M2' }],
        below: 18,
      },
      above: 'open',
      corridors: [{ id: 'plug', shape: { circle: [0, 0, 4] }, z: [-2, 8], why: 'servo plug' }],
      terminals: [{ id: 'pan', at: [1, 2], name: 'pan servo' }],
      breadboard: { pitch: 2, blocks: [{ at: [1, 1], columns: 3, rows: 2, strip: 'row' }] },
      head: { pivot: [6, 6], pan: [-80, 80], reach: 45, tail: 15, z: [20, 60] },
    }
    expect(problems(f)).toEqual([])
    expect(footprintToSolver(f)).toEqual({
      id: 'all',
      name: 'all of it',
      kind: 'head',
      width: 24000,
      depth: 12000,
      height: 50000,
      mass: 44.5,
      mount: {
        kind: 'drop-in',
        cutout: { x: 1000, y: 1000, w: 22000, h: 10000 },
        holes: [{ id: 'a', at: { x: -2000, y: 6000 }, diameter: 2200, land: 5000, screw: 'M2' }],
        below: 18000,
      },
      above: 'open',
      corridors: [
        { id: 'plug', shape: { kind: 'circle', cx: 0, cy: 0, r: 4000 }, z: [-2000, 8000], why: 'servo plug' },
      ],
      terminals: [{ id: 'pan', at: { x: 1000, y: 2000 }, name: 'pan servo' }],
      breadboard: { pitch: 2000, blocks: [{ at: { x: 1000, y: 1000 }, columns: 3, rows: 2, strip: 'row' }] },
      head: { pivot: { x: 6000, y: 6000 }, pan: [-80, 80], reach: 45000, tail: 15000, z: [20000, 60000] },
    })
  })

  it('has each kind of mount', () => {
    const mount = (m: FootprintFile['mount'], more = {}) => footprintToSolver({ ...box, mount: m, ...more }).mount
    const hole = { id: 'h', at: [1, 2] as [number, number], diameter: 3.4 }
    const holes = [{ id: 'h', at: { x: 1000, y: 2000 }, diameter: 3400, land: 0 }]
    expect(mount({ kind: 'screw', standoff: 6, holes: [hole] })).toEqual({ kind: 'screw', standoff: 6000, holes })
    expect(mount({ kind: 'screw' })).toEqual({ kind: 'screw', standoff: 0, holes: [] })
    expect(mount({ kind: 'strap', slots: [[1, 2, 3, 4]] })).toEqual({
      kind: 'strap',
      slots: [{ x: 1000, y: 2000, w: 3000, h: 4000 }],
    })
    expect(mount({ kind: 'strap' })).toEqual({ kind: 'strap', slots: [] })
    expect(mount({ kind: 'drop-in', cutout: [0, 0, 1, 1] })).toMatchObject({ kind: 'drop-in', holes: [], below: 0 })
    const plug = { pins: [{ id: '1', at: [1.27, 1.27] as [number, number] }] }
    const part = { ...box, mount: { kind: 'plug-in' as const }, plug }
    expect(problems(part)).toEqual([])
    expect(footprintToSolver(part)).toMatchObject({
      mount: { kind: 'plug-in' },
      plug: { pins: [{ id: '1', at: { x: 1270, y: 1270 } }] },
    })
  })

  it('needs 25 mm above where it is a breadboard, 0 elsewhere, unless it says otherwise', () => {
    const contacts = {
      breadboard: { blocks: [{ at: [0, 0] as [number, number], columns: 1, rows: 1, strip: 'row' as const }] },
    }
    expect(footprintToSolver({ ...box, ...contacts }).above).toBe(25000)
    expect(footprintToSolver({ ...box, ...contacts, kind: 'breadboard' }).above).toBe(25000)
    expect(footprintToSolver({ ...box, ...contacts, kind: 'breadboard', above: 0 }).above).toBe(0)
    expect(footprintToSolver({ ...box, kind: 'board' }).above).toBe(0)
    expect(footprintToSolver({ ...box, ...contacts }).breadboard!.pitch).toBe(2540)
  })

  it('is of the kind that it says, or of what it carries', () => {
    expect(kindOf(box)).toBe('part')
    expect(kindOf({ ...box, kind: 'sensor' })).toBe('sensor')
    expect(kindOf({ ...box, head: { pivot: [0, 0], pan: [0, 1], reach: 1, tail: 0, z: [0, 1] } })).toBe('head')
  })

  it('says of every part of a head what would be right', () => {
    const head = { pivot: [6, 6], pan: [-80, 80], reach: 45, tail: 15, z: [20, 60] }
    for (const [field, value] of Object.entries(head))
      for (const wrong of [undefined, null, 'x', [], [5], [1, 2, 3], {}, Array.isArray(value) ? 5 : [5, 5]])
        for (const said of problems({ ...box, head: { ...head, [field]: wrong } }))
          expect(said, JSON.stringify(wrong)).not.toMatch(/invalid|input/i)
    expect(problems({ ...box, head: { ...head, pivot: [5] } })).toEqual(['head.pivot: a point [x, y] in mm'])
  })

  it('has pins where, and only where, it is plugged in', () => {
    expect(problems({ ...box, mount: { kind: 'plug-in' } })).toEqual([
      'plug: the pins of a part whose mount is "plug-in"',
    ])
    expect(problems({ ...box, plug: { pins: [{ id: '1', at: [0, 0] }] } })).toEqual([
      'plug: nothing here, or the mount "plug-in"',
    ])
  })

  it('tells all that is wrong at once', () => {
    expect(problems(null)).toEqual([': an object'])
    expect(problems({ id: 'a#1', body: { width: 0, depth: 1, height: 'x' }, mount: {}, mass: -1 })).toEqual([
      'id: an id: text, not empty, without #',
      'body.width: a length in mm from 0.001 to 10000',
      'body.height: a length in mm from 0.001 to 10000',
      'mass: a mass in grams from 0 to 1000000',
      'mount.kind: one of "screw", "adhesive", "strap", "drop-in", "plug-in"',
    ])
  })
})

describe('shapes in Um', () => {
  it('are of four kinds', () => {
    expect(shapeToSolver({ rect: [1, 2, 3, 4], radius: 0.5 })).toEqual({
      kind: 'rect',
      x: 1000,
      y: 2000,
      w: 3000,
      h: 4000,
      radius: 500,
    })
    expect(shapeToSolver({ circle: [1, 2, 3.0005] })).toEqual({ kind: 'circle', cx: 1000, cy: 2000, r: 3001 })
    expect(
      shapeToSolver({
        polygon: [
          [0, 0, 1],
          [10, 0],
        ],
      }),
    ).toEqual({
      kind: 'polygon',
      points: [
        { x: 0, y: 0, bulge: 1 },
        { x: 10000, y: 0, bulge: 0 },
      ],
    })
    expect(shapeToSolver({ sector: [0, 0, 5, -90, 90] })).toMatchObject({ from: -90, to: 90 })
    expect(shapeToSolver({ sector: [0, 0, 5, 350, 10] })).toMatchObject({ from: 350, to: 370 })
    expect(shapeToSolver({ sector: [0, 0, 5, 0, 360] })).toMatchObject({ from: 0, to: 360 })
  })

  it('take a rectangle along x and y for one however it is written', () => {
    const rect = { kind: 'rect', x: 1000, y: 2000, w: 30_000, h: 4000, radius: 0 }
    const corners: [number, number][] = [
      [1, 2],
      [31, 2],
      [31, 6],
      [1, 6],
    ]
    for (let k = 0; k < 4; k++) {
      const polygon = [...corners.slice(k), ...corners.slice(0, k)]
      expect(shapeToSolver({ polygon })).toEqual(rect)
      expect(shapeToSolver({ polygon: polygon.reverse() })).toEqual(rect)
    }
    const other: [number, number, number?][][] = [
      [[1, 2, 0.1], ...corners.slice(1)],
      [[1.001, 2], ...corners.slice(1)],
      corners.slice(1),
      [[16, 2], ...corners.slice(1), [1, 2]],
    ]
    for (const polygon of other) {
      expect(shapeToSolver({ polygon } as Parameters<typeof shapeToSolver>[0]).kind).toBe('polygon')
    }
  })

  it('never round a radius over half the side', () => {
    expect(shapeToSolver({ rect: [0, 0, 1.001, 5], radius: 0.5005 })).toMatchObject({ w: 1001, radius: 500 })
  })
})

const budget = () => ({ pairs: 1e9 })
const v = (x: number, y: number, bulge = 0): Vertex => ({ x: x * 1000, y: y * 1000, bulge })
const isSimple = (...points: Vertex[]) => simple(points, budget()).kind === 'simple'

describe('simple contours', () => {
  it.each<[string, Vertex[], boolean]>([
    ['a square', [v(0, 0), v(10, 0), v(10, 10), v(0, 10)], true],
    ['a square, clockwise', [v(0, 10), v(10, 10), v(10, 0), v(0, 0)], true],
    ['a corner on a straight edge', [v(0, 0), v(5, 0), v(10, 0), v(10, 10)], true],
    ['a bow tie', [v(0, 0), v(10, 10), v(10, 0), v(0, 10)], false],
    [
      'two squares that touch in a corner',
      [v(0, 0), v(5, 0), v(5, 5), v(10, 5), v(10, 10), v(5, 10), v(5, 5), v(0, 5)],
      false,
    ],
    ['a corner that touches an edge', [v(0, 0), v(10, 0), v(10, 10), v(5, 0), v(0, 10)], false],
    ['a spike', [v(0, 0), v(10, 0), v(15, 0), v(10, 0.0), v(10, 10)], false],
    ['a way there and back', [v(0, 0), v(10, 0), v(4, 0)], false],
    ['two half circles: a circle', [v(0, 0, 1), v(10, 0, 1)], true],
    ['a half circle and its chord', [v(0, 0, 1), v(10, 0)], true],
    ['the same half circle there and back', [v(0, 0, 1), v(10, 0, -1)], false],
    ['a moon: two arcs to one side', [v(0, 0, 1), v(10, 0, -0.5)], true],
    // Bulge tan(90°/4) at each corner of a rounded square, rounded to three places: edges and arcs are nearly tangent.
    [
      'a rounded square',
      [v(3, 0), v(7, 0, 0.414), v(10, 3), v(10, 7, 0.414), v(7, 10), v(3, 10, 0.414), v(0, 7), v(0, 3, 0.414)],
      true,
    ],
    ['an arc that dips through the far edge', [v(0, 0), v(100, 0), v(100, 20, -0.5), v(0, 20)], false],
    ['an arc that dips short of it', [v(0, 0), v(100, 0), v(100, 30, -0.5), v(0, 30)], true],
    // Bulge −0.5 over a chord of 100 dips 25 deep.
    ['an arc that just touches it', [v(0, 0), v(100, 0), v(100, 25, -0.5), v(0, 25)], false],
    ['two arcs that bulge into each other', [v(0, 0), v(10, 0, -1), v(10, 10), v(0, 10, -1)], false],
  ])('%s', (_, points, right) => {
    expect(isSimple(...points)).toBe(right)
    // Nothing changes where the walk begins or which way it goes.
    const n = points.length
    for (let k = 0; k < n; k++) expect(isSimple(...points.slice(k), ...points.slice(0, k))).toBe(right)
    const back = points.map((_, i) => ({ ...points[n - 1 - i]!, bulge: -points[(2 * n - 2 - i) % n]!.bulge }))
    expect(isSimple(...back)).toBe(right)
  })

  it('name the corner that stands twice', () => {
    expect(simple([v(0, 0), v(10, 0), v(10, 0), v(0, 10)], budget())).toEqual({ kind: 'point-twice', vertex: 2 })
    expect(simple([v(0, 0), v(10, 0), v(0, 10), v(0, 0)], budget())).toEqual({ kind: 'point-twice', vertex: 0 })
  })

  it('give up where the budget ends, and say so', () => {
    expect(simple([v(0, 0), v(10, 0), v(10, 10), v(0, 10)], { pairs: 2 })).toEqual({ kind: 'unchecked' })
  })

  /** Exact on whole numbers: sides of each end of the other segment, and overlap on one line. */
  const bruteForce = (p: readonly Vertex[]): boolean => {
    const n = p.length
    const side = (a: Vertex, b: Vertex, c: Vertex) => Math.sign((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x))
    const on = (a: Vertex, b: Vertex, c: Vertex) =>
      side(a, b, c) === 0 &&
      Math.min(a.x, b.x) <= c.x &&
      c.x <= Math.max(a.x, b.x) &&
      Math.min(a.y, b.y) <= c.y &&
      c.y <= Math.max(a.y, b.y)
    for (let i = 0; i < n; i++) {
      const [a, b] = [p[i]!, p[(i + 1) % n]!]
      if (a.x === b.x && a.y === b.y) return false
      const [x0, x1, y0, y1] = [Math.min(a.x, b.x), Math.max(a.x, b.x), Math.min(a.y, b.y), Math.max(a.y, b.y)]
      for (let j = i + 1; j < n; j++) {
        const [c, d] = [p[j]!, p[(j + 1) % n]!]
        // most pairs are far apart
        if ((c.x < x0 && d.x < x0) || (c.x > x1 && d.x > x1) || (c.y < y0 && d.y < y0) || (c.y > y1 && d.y > y1))
          continue
        const next = (i + 1) % n === j
        const last = (j + 1) % n === i
        if (next || last) {
          // Of neighbours, neither far end may lie on the other.
          const [far, near] = next ? [d, a] : [c, b]
          if (on(a, b, far) || on(c, d, near)) return false
        } else if (on(a, b, c) || on(a, b, d) || on(c, d, a) || on(c, d, b)) return false
        else if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) return false
      }
    }
    return true
  }

  it('agree with brute force on small grids, where corners and edges often touch', () => {
    let right = 0
    const corner = fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 5 }))
    fc.assert(
      fc.property(fc.array(corner, { minLength: 3, maxLength: 7 }), (corners) => {
        const points = corners.map(([x, y]) => v(x, y))
        const brute = bruteForce(points)
        if (brute) right++
        expect(simple(points, budget()).kind === 'simple').toBe(brute)
      }),
      { numRuns: LONG ? 20_000 : 8000 },
    )
    expect(right).toBeGreaterThan(LONG ? 1000 : 400)
  })

  it('agree on arcs with the same contour in many short chords', () => {
    let both = [0, 0]
    const corner = fc.tuple(
      fc.integer({ min: 0, max: 40 }),
      fc.integer({ min: 0, max: 40 }),
      fc.constantFrom(0, 0, 0.5, -0.5, 1, -1, 2, -2),
    )
    const chords = (points: readonly Vertex[], steps: number): Vertex[] =>
      points.flatMap((a, i) => {
        const b = points[(i + 1) % points.length]!
        if (a.bulge === 0) return [a]
        const sweep = 4 * Math.atan(a.bulge)
        const k = (1 - a.bulge ** 2) / (4 * a.bulge)
        const [cx, cy] = [(a.x + b.x) / 2 - k * (b.y - a.y), (a.y + b.y) / 2 + k * (b.x - a.x)]
        return Array.from({ length: steps }, (_, s) => {
          const t = (sweep * s) / steps
          const [dx, dy] = [a.x - cx, a.y - cy]
          return { x: cx + dx * Math.cos(t) - dy * Math.sin(t), y: cy + dx * Math.sin(t) + dy * Math.cos(t), bulge: 0 }
        })
      })
    fc.assert(
      fc.property(fc.array(corner, { minLength: 3, maxLength: 5 }), (corners) => {
        const points = corners.map(([x, y, b]) => v(x, y, b))
        if (!points.some((p) => p.bulge !== 0)) return
        // A corner where the contour turns right back on itself is a touch that no chords can judge.
        const direction = (i: number, end: 1 | -1): number => {
          const [a, b] = [points[i % points.length]!, points[(i + 1) % points.length]!]
          return Math.atan2(b.y - a.y, b.x - a.x) + end * 2 * Math.atan(a.bulge)
        }
        if (points.some((_, i) => Math.cos(direction(i, 1) - direction(i + 1, -1)) < -0.9999)) return
        // Where 40 and 160 chords disagree, the case is a touch that chords cannot settle.
        const [coarse, fine] = [bruteForce(chords(points, 40)), bruteForce(chords(points, 160))]
        if (coarse !== fine) return
        const mine = simple(points, budget()).kind === 'simple'
        // A touch without a crossing is refused here and may slip between chords; only a crossing must never be missed.
        // Where arcs leave a corner at nearly one angle, chords cross and arcs do not; many more of them tell.
        if (!fine && mine) expect(bruteForce(chords(points, 2000))).toBe(true)
        both = [both[0]! + (mine ? 1 : 0), both[1]! + (mine === fine ? 0 : 1)]
      }),
      { numRuns: 1000 },
    )
    expect(both[0]).toBeGreaterThan(50)
    // Touches are rare; a test that refused everything would fail here.
    expect(both[1]).toBeLessThan(100)
  })
})

describe('words for people', () => {
  it('name the field', () => {
    expect(pathText(['items', 1, 'count'])).toBe('items[1].count')
    expect(pathText(['variants', 0, 'items', 'lamp-driver', 'turns', 2])).toBe('variants[0].items.lamp-driver.turns[2]')
    expect(pathText(['a b', 'c.d'])).toBe('["a b"]["c.d"]')
    expect(pathText([])).toBe('')
  })

  it('show what was found, short and harmless', () => {
    expect(snippet(undefined)).toBe('nothing')
    expect(snippet('x'.repeat(1000)).length).toBeLessThanOrEqual(120)
    expect(snippet('\u001b[2J\u202e\u009b')).toBe('"\\u001b[2J\ufffd\ufffd"')
    expect(snippet(Array(13).fill(1))).toBe('a list of 13')
    expect(snippet({ a: 1, b: 2 })).toBe('an object with a, b')
    expect(clip('a\nb')).toBe('a\ufffdb')
  })

  it('guess what was meant, and only where it is near', () => {
    expect(nearest('keepout', ['keep-out', 'view'])).toBe('keep-out')
    expect(nearest('lenght', ['length', 'balance'])).toBe('length')
    expect(nearest('Main', ['main', 'top'])).toBe('main')
    expect(nearest('zzz', ['main', 'top'])).toBeUndefined()
    expect(nearest('x', ['y', 'z'])).toBeUndefined()
    expect(oneOf(['a'])).toBe('"a"')
    expect(oneOf([])).toBe('nothing here: there is none to name')
  })

  it('make one line, with or without a place', () => {
    const p = { file: 'f.json', path: 'a', found: '1', expected: '2' }
    expect(formatProblem(p)).toBe('f.json: a: found 1, expected 2')
    expect(formatProblem({ ...p, path: '', line: 3, column: 4 })).toBe('f.json:3:4: found 1, expected 2')
  })
})
