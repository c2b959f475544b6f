/** The edges of plates against those that three itself finds by comparing triangles. */
import { type BufferGeometry, EdgesGeometry, ExtrudeGeometry } from 'three'
import { describe, expect, it } from 'vitest'
import { mm, type Shape } from '../../solver/index.ts'
import { holeOf, outlineOf } from '../../src/scene/outlines.ts'
import { plateEdges } from '../../src/scene/plate-edges.ts'
import { rect, round } from '../export/decks.ts'

const polygon = (...points: [number, number, number?][]): Shape => ({
  kind: 'polygon',
  points: points.map(([x, y, bulge = 0]) => ({ x: mm(x), y: mm(y), bulge })),
})

/** Each edge once, whichever way it runs, to a tenth of a micrometre; those without length left out. */
function edges(geometry: BufferGeometry): string[] {
  const { array } = geometry.getAttribute('position')
  const out = new Set<string>()
  for (let i = 0; i < array.length; i += 6) {
    const ends = [0, 3].map((k) => [0, 1, 2].map((n) => Math.round(array[i + k + n]! * 1e3) / 1e3 + 0).join())
    if (ends[0] !== ends[1]) out.add(ends.sort().join(' '))
  }
  return [...out].sort()
}

const PLATES: readonly [string, Shape, readonly Shape[]][] = [
  ['a rectangle', rect(0, 0, 120, 80), []],
  [
    'round corners, holes and a slot',
    rect(0, 0, 120, 80, 6),
    [round(10, 10, 1.6), round(60, 40, 9), rect(80, 20, 20, 6, 3)],
  ],
  [
    'corners of 45 and of 20 degrees',
    polygon([0, 0], [80, 0], [100, 20], [100, 60], [96, 71], [0, 71]),
    [rect(20, 20, 10, 10)],
  ],
  ['arcs, in and out', polygon([0, 0], [60, 0, 0.4], [60, 40], [30, 40, -0.3], [0, 40]), [round(20, 15, 4)]],
  ['the other way round', polygon([0, 0], [0, 50], [70, 50, -0.2], [70, 0]), [rect(10, 10, 12, 9, 2)]],
]

describe('edges of a plate', () => {
  it.each(PLATES)('%s: those that three finds', (_, outline, openings) => {
    const shape = outlineOf(outline)
    shape.holes.push(...openings.map(holeOf))
    const solid = new ExtrudeGeometry(shape, { depth: 3, bevelEnabled: false, curveSegments: 24 })
    const rims = shape.extractPoints(24)
    const own = edges(plateEdges([rims.shape, ...rims.holes], 3))
    expect(own.length).toBeGreaterThan(11)
    expect(own).toEqual(edges(new EdgesGeometry(solid, 30)))
  })
})
