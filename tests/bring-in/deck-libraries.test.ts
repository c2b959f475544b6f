/** Drawings written by three libraries that know nothing of this program. */
import { serialize } from '@jscad/dxf-serializer'
import modeling from '@jscad/modeling'
import { DxfWriter, LWPolylineFlags, PolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf'
import makerjs from 'makerjs'
import { describe, expect, it } from 'vitest'
import type { ProjectDeck } from '../../src/model/index.ts'
import { deckApart, refused, taken } from './deck-kit.ts'

/** 60 × 40 with round corners, a slot and two holes. */
const plate: ProjectDeck = {
  id: 'deck',
  z: 0,
  thickness: 3,
  outline: { rect: [0, 0, 60, 40], radius: 5 },
  openings: [{ id: 'slot', shape: { rect: [18, 18, 14, 4], radius: 2 } }],
  holes: [
    { id: 'a', at: [8, 8], diameter: 3.2 },
    { id: 'b', at: [52, 8], diameter: 3.2 },
  ],
}

describe('drawings of a library for makers', () => {
  const model = (): makerjs.IModel => ({
    units: makerjs.unitType.Millimeter,
    models: {
      outline: new makerjs.models.RoundRectangle(60, 40, 5),
      slot: makerjs.model.move(new makerjs.models.Slot([0, 0], [10, 0], 2), [20, 20]),
      holes: new makerjs.models.Holes(1.6, [
        [8, 8],
        [52, 8],
      ]),
    },
  })

  it('come in from DXF: lines and arcs, chained', () => {
    const got = taken(makerjs.exporter.toDXF(model()), 'maker.dxf')
    expect(deckApart(plate, got.decks[0]!)).toBeLessThanOrEqual(0.001)
    expect(got.decks[0]!.outline).toEqual(plate.outline)
    expect(got.decks[0]!.openings![0]!.shape).toEqual(plate.openings![0]!.shape)
    expect(got.report.flattened.count + got.report.unused.length + got.report.closedGaps.length).toBe(0)
  })

  it('come in from DXF with polylines', () => {
    const got = taken(makerjs.exporter.toDXF(model(), { usePOLYLINE: true }), 'maker.dxf')
    expect(deckApart(plate, got.decks[0]!)).toBeLessThanOrEqual(0.001)
  })

  it('come in from SVG, in one path and piece by piece', () => {
    for (const useSvgPathOnly of [true, false]) {
      const got = taken(makerjs.exporter.toSVG(model(), { useSvgPathOnly }), 'maker.svg')
      expect(deckApart(plate, got.decks[0]!)).toBeLessThanOrEqual(0.001)
      expect(got.report.unit).toMatchObject({ name: 'mm', mm: 1, from: 'file' })
    }
  })

  it('come in in inches, and are asked for their unit where they have none', () => {
    const inches = { ...model(), units: makerjs.unitType.Inch }
    const big = taken(makerjs.exporter.toDXF(inches), 'inch.dxf').decks[0]!.outline
    expect(big).toEqual({ rect: [0, 0, 1524, 1016], radius: 127 })
    const { units: _, ...bare } = model()
    const no = refused(makerjs.exporter.toDXF(bare), 'bare.dxf')
    expect(no.problems[0]).toMatchObject({ path: 'unit' })
    expect(no.problems[0]!.expected).toContain('mm (60 × 40 mm), cm (600 × 400 mm), in (1524 × 1016 mm)')
    const told = taken(makerjs.exporter.toDXF(bare), 'bare.dxf', { unit: 'mm' })
    expect(deckApart(plate, told.decks[0]!)).toBeLessThanOrEqual(0.001)
    expect(told.report.unit.from).toBe('options')
  })
})

describe('drawings of a library that writes DXF', () => {
  const writer = (): DxfWriter => {
    const dxf = new DxfWriter()
    dxf.setUnits(Units.Millimeters)
    return dxf
  }
  const outline = (dxf: DxfWriter): void => {
    const quarter = Math.tan(Math.PI / 8)
    const corners: [number, number, number][] = [
      [5, 0, 0],
      [55, 0, quarter],
      [60, 5, 0],
      [60, 35, quarter],
      [55, 40, 0],
      [5, 40, quarter],
      [0, 35, 0],
      [0, 5, quarter],
    ]
    dxf.addLWPolyline(
      corners.map(([x, y, bulge]) => ({ point: point2d(x, y), bulge })),
      { flags: LWPolylineFlags.Closed },
    )
  }

  it('come in: polyline with bulges, slot of loose lines and arcs, circles', () => {
    const dxf = writer()
    outline(dxf)
    dxf.addLine(point3d(20, 18), point3d(30, 18))
    dxf.addLine(point3d(30, 22), point3d(20, 22))
    dxf.addArc(point3d(30, 20), 2, 270, 90)
    dxf.addArc(point3d(20, 20), 2, 90, 270)
    dxf.addCircle(point3d(8, 8), 1.6)
    dxf.addCircle(point3d(52, 8), 1.6)
    const got = taken(dxf.stringify(), 'writer.dxf')
    expect(deckApart(plate, got.decks[0]!)).toBeLessThanOrEqual(0.001)
  })

  it('come in: blocks with base, scale, turn, rows and columns, mirrored ones too', () => {
    const dxf = writer()
    dxf.addRectangle(point2d(-50, 50), point2d(50, -50))
    const block = dxf.addBlock('pattern')
    block.addCircle(point3d(3, 0), 1)
    block.addLWPolyline([{ point: point2d(5, 0), bulge: 0.5 }, { point: point2d(8, 0) }, { point: point2d(8, 2) }], {
      flags: LWPolylineFlags.Closed,
    })
    dxf.addInsert('pattern', point3d(10, 10), { scaleFactor: { x: 2, y: 2 }, rotationAngle: 90 })
    dxf.addInsert('pattern', point3d(-10, -10), { scaleFactor: { x: -1, y: 1 } })
    dxf.addInsert('pattern', point3d(-20, -40), { columnCount: 3, columnSpacing: 20, rowCount: 2, rowSpacing: 10 })
    const deck = taken(dxf.stringify(), 'blocks.dxf').decks[0]!
    const at = deck.holes!.map((h) => `${h.at[0] - 50},${h.at[1] - 50},${h.diameter}`)
    expect(at).toEqual(['10,16,4', '-13,-10,2', '-17,-40,2', '3,-40,2', '23,-40,2', '-17,-30,2', '3,-30,2', '23,-30,2'])
    expect(deck.openings).toHaveLength(8)
    // Turned by a quarter and doubled: (5,0) goes to (10,20), (8,2) to (6,26).
    expect(deck.openings![0]!.shape).toEqual({
      polygon: [
        [60, 70, 0.5],
        [60, 76],
        [56, 76],
      ],
    })
    // Mirrored: the bulge turns over.
    expect(deck.openings![1]!.shape).toEqual({
      polygon: [
        [35, 40, -0.5],
        [32, 40],
        [32, 42],
      ],
    })
  })

  it('come in: ellipse, spline and a 3D polyline, flattened or straight', () => {
    const dxf = writer()
    dxf.addPolyline3D(
      [point3d(0, 0), point3d(100, 0), point3d(100, 60), point3d(0, 60)].map((point) => ({ point })),
      { flags: PolylineFlags.Closed | PolylineFlags.Polyline3D },
    )
    dxf.addEllipse(point3d(30, 30), point3d(15, 0), 0.5, 0, 2 * Math.PI)
    const control = [
      [60, 20],
      [90, 20],
      [90, 50],
      [60, 50],
    ] as const
    dxf.addSpline({
      controlPoints: [...control].map(([x, y]) => point3d(x, y)),
      degreeCurve: 3,
      knots: [0, 0, 0, 0, 1, 1, 1, 1],
    })
    dxf.addLine(point3d(60, 50), point3d(60, 20))
    const got = taken(dxf.stringify(), 'curves.dxf')
    const deck = got.decks[0]!
    expect(deck.outline).toEqual({ rect: [0, 0, 100, 60] })
    expect(got.report.flattened.count).toBe(2)
    const corners = deck.openings!.map((o) => ('polygon' in o.shape ? o.shape.polygon : []))
    for (const [x, y] of corners[0]!) expect(Math.hypot((x - 30) / 15, (y - 30) / 7.5)).toBeCloseTo(1, 3)
    // Bernstein at the middle: (82.5, 35).
    expect(Math.min(...corners[1]!.map(([x, y]) => Math.hypot(x - 82.5, y - 35)))).toBeLessThan(0.001)
  })

  it('list text, points and fillings instead of dropping them', () => {
    const dxf = writer()
    outline(dxf)
    dxf.addText(point3d(10, 10), 3, 'front')
    dxf.addPoint(1, 1, 0)
    dxf.add3dFace(point3d(0, 0), point3d(1, 0), point3d(1, 1), point3d(0, 1))
    const { report } = taken(dxf.stringify(), 'more.dxf')
    expect(report.unused.map((u) => u.what)).toEqual(['TEXT', 'POINT', '3DFACE'])
    for (const u of report.unused) expect(u.where).toMatch(/^line \d+/)
  })
})

describe('drawings of a library for solids', () => {
  it('come in from polylines of both kinds', () => {
    const { circle, rectangle } = modeling.primitives
    const solid = modeling.booleans.subtract(
      rectangle({ size: [80, 50], center: [40, 25] }),
      circle({ radius: 6, center: [20, 20], segments: 24 }),
      rectangle({ size: [10, 4], center: [60, 30] }),
    )
    const want: ProjectDeck = {
      id: 'deck',
      z: 0,
      thickness: 3,
      outline: { rect: [0, 0, 80, 50] },
      openings: [
        {
          id: 'round',
          shape: {
            polygon: Array.from({ length: 24 }, (_, i): [number, number] => [
              20 + 6 * Math.cos((i * Math.PI) / 12),
              20 + 6 * Math.sin((i * Math.PI) / 12),
            ]),
          },
        },
        { id: 'window', shape: { rect: [55, 28, 10, 4] } },
      ],
    }
    for (const geom2To of ['lwpolyline', 'polyline'] as const) {
      const got = taken(serialize({ geom2To }, solid).join(''), 'solid.dxf')
      expect(deckApart(want, got.decks[0]!), geom2To).toBeLessThanOrEqual(0.001)
    }
  })
})
