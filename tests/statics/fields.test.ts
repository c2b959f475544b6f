/** The optional fields of statics in files: read, replaced by variants, and told with path, found and expected where they are wrong. */
import { describe, expect, it } from 'vitest'
import { readProject, toProblem } from '../../src/model/index.ts'

const head = {
  id: 'eye',
  body: { width: 30, depth: 30, height: 40 },
  mount: { kind: 'adhesive' },
  head: {
    pivot: [15, 15],
    pan: [-90, 90],
    reach: 50,
    tail: 20,
    z: [10, 60],
    tilt: [-30, 45],
    tiltAxis: [2, 35],
    payload: [{ id: 'camera', box: [-10, 1, -5, 20, 15, 10] }],
    view: { from: [0, 16, 0], width: 60, height: 40 },
  },
}

const project = (over: { head?: object; item?: object; settings?: object } = {}) => ({
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'fields',
  settings: { leastTipAngle: 25, mostTrackShare: 0.6, ...over.settings },
  decks: [{ id: 'd', z: 40, thickness: 3, outline: { rect: [0, 0, 100, 100] } }],
  footprints: [{ ...head, head: { ...head.head, ...over.head } }],
  items: [{ id: 'eye', footprint: 'eye', stack: 20, stackMass: [0, 50], ...over.item }],
  variants: [
    { id: 'a' },
    { id: 'b', items: { eye: { later: true, laterMass: 70, laterReach: 12.5 } }, settings: { leastTipAngle: 30 } },
  ],
})

const read = (p: object) => readProject(JSON.stringify(p), 'f.json', new Map())

describe('the fields of statics', () => {
  it('reach the problem in micrometres, grams and degrees, and variants replace them', () => {
    const r = read(project())
    if (!r.ok) throw new Error(JSON.stringify(r.problems))
    expect(r.warnings).toEqual([])
    const a = toProblem(r.value, 'a', new Map())
    expect([a.leastTipAngle, a.mostTrackShare, a.items[0]!.stackMass]).toEqual([25, 0.6, [0, 50]])
    expect(a.items[0]!.footprint.head).toMatchObject({
      tilt: [-30, 45],
      tiltAxis: { ahead: 2000, z: 35_000 },
      payload: [{ id: 'camera', at: { x: -10_000, y: 1000, z: -5000 }, width: 20_000, depth: 15_000, height: 10_000 }],
      view: { from: { x: 0, y: 16_000, z: 0 }, width: 60, height: 40 },
    })
    const b = toProblem(r.value, 'b', new Map())
    expect(b.leastTipAngle).toBe(30)
    expect(b.items[0]).toMatchObject({ later: true, laterMass: 70, laterReach: 12_500 })
  })

  it('are refused where they are wrong, by path', () => {
    const wrong: [object, string][] = [
      [project({ item: { stackMass: [50, 10] } }), 'items[0].stackMass'],
      [project({ item: { stackMass: [-1, 10] } }), 'items[0].stackMass[0]'],
      [project({ settings: { leastTipAngle: 90 } }), 'settings.leastTipAngle'],
      [project({ settings: { mostTrackShare: 0.4 } }), 'settings.mostTrackShare'],
      [project({ head: { tilt: [40, -40] } }), 'footprints[0].head.tilt'],
      [
        project({ head: { payload: [{ id: 'camera', box: [0, 0, 0, 20, 0, 10] }] } }),
        'footprints[0].head.payload[0].box[4]',
      ],
      [project({ head: { view: { from: [0, 0, 0], width: 0, height: 40 } } }), 'footprints[0].head.view.width'],
    ]
    for (const [file, path] of wrong) {
      const r = read(file)
      expect(r.ok).toBe(false)
      if (r.ok) continue
      expect(r.problems.map((p) => p.path)).toContain(path)
      for (const p of r.problems) expect(p.expected).toMatch(/\S/)
    }
  })
})
