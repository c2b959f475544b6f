/** Views and what a head sweeps against worked examples; sources in tests/fixtures/examples-statics.json. */
import { freeTilts, headReports, viewReports } from '../../src/statics/index.ts'
import { allHeld, type Example, hold } from '../examples.ts'
import file from '../fixtures/examples-statics.json'
import { box, placed, problemOf } from './kit.ts'

const all = file as unknown as readonly Example[]

allHeld(all, ['gravity', 'tip', 'margin', 'hull', 'level', 'slope', 'press', 'topples', 'view', 'swept', 'meets'])

/** What stands straight ahead of a lens covers twice the arc tangent of half its size by its distance, as in a camera its picture does. */
hold<{ size: number; distance: number }>(all, 'view', ({ size, distance }) => {
  const ahead = 200
  const width = (size * ahead) / distance
  const p = problemOf({
    decks: [{ id: 'd', z: 0, thickness: 3, outline: { rect: [0, 0, 2000, 2000] } }],
    footprints: [
      {
        id: 'eye',
        kind: 'sensor',
        body: { width: 20, depth: 10, height: 30 },
        mount: { kind: 'adhesive' },
        view: { from: [10, 10, 20], width: 170, height: 90 },
      },
      box('plate', width, 1, 40),
    ],
    items: [
      { id: 'eye', footprint: 'eye' },
      { id: 'plate', footprint: 'plate' },
    ],
  })
  const at = placed(p, { eye: ['d', 990, 0], plate: ['d', 1000 - width / 2, 10 + ahead] })
  const { across } = viewReports(p, at)[0]!.blockers.find((b) => b.id === 'plate')!
  return { degrees: across[1] - across[0] }
})

/** Height of the tilt axis over the deck, mm. */
const AXIS = 200

/** A head that carries one box, `[ahead, up, deep, high]` from its tilt axis, over a deck; with a roof over it, or none. */
function head(payload: readonly number[], tilt: readonly [number, number], across: readonly number[], roof?: number) {
  const [y, z, d, h] = payload
  const p = problemOf({
    decks: [
      { id: 'd', z: 0, thickness: 3, outline: { rect: [0, 0, 400, 400] } },
      ...(roof === undefined
        ? []
        : [{ id: 'roof', z: AXIS + roof + 3, thickness: 3, outline: { rect: [0, 0, 400, 400] } }]),
    ],
    footprints: [
      {
        id: 'head',
        kind: 'head',
        body: { width: 20, depth: 20, height: 30 },
        mount: { kind: 'adhesive' },
        head: {
          pivot: [10, 10],
          pan: [-90, 90],
          reach: 150,
          tail: 150,
          z: [0, 400],
          tilt,
          tiltAxis: [0, AXIS],
          payload: [{ id: 'box', box: [across[0], y, z, across[1], d, h] }],
        },
      },
    ],
    items: [{ id: 'head', footprint: 'head' }],
  })
  return { p, at: placed(p, { head: ['d', 190, 100] }) }
}

interface Swept {
  readonly box: readonly number[]
  /** Left side and width. */
  readonly across?: readonly number[]
  readonly tilt: readonly [number, number]
}
hold<Swept>(all, 'swept', ({ box: payload, tilt, across = [0, 0.001] }) => {
  const { p, at } = head(payload, tilt, across)
  const { reach, z } = headReports(p, at)[0]!.swept
  return { high: z[1] - z[0], top: z[1] - AXIS, long: 2 * reach, circle: 2 * reach }
})

/** A bar that tilts up from level, as a ladder is raised, meets a ceiling when its end is that high. */
hold<{ length: number; height: number }>(all, 'meets', ({ length, height }) => {
  const bar = 100
  const { p, at } = head([0, -0.001, bar, 0.001], [0, 90], [-1, 2], (bar * height) / length)
  const free = freeTilts(p, at, 0, 0)!
  return { degrees: free.length === 1 && free[0]![0] === 0 ? free[0]![1] : Number.NaN }
})
