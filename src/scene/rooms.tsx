/** Corridors, zones and the sweeps that a part only states, each role as one hatched solid with its outline. */
import { useMemo } from 'react'
import { type BufferGeometry, DoubleSide, ExtrudeGeometry, ShapeGeometry } from 'three'
import { type Body, corridorsOf, type Problem, type Shape, sweepOf, type Zone } from '../../solver/index.ts'
import type { Colours } from './colours.ts'
import { merged, outlined, useMade } from './geometry.ts'
import { type Hatch, useHatch } from './hatch.ts'
import { outlineOf } from './outlines.ts'

/** A corridor may go up without end; so much of it is drawn, mm. */
const HIGHEST = 120

interface HatchedProps {
  readonly solid: BufferGeometry
  readonly hatch: Hatch
  readonly colour: string
}

/** A solid or area in the hatch of its role, outlined; the geometry stays its maker's. */
export function Hatched({ solid, hatch, colour }: HatchedProps) {
  const texture = useHatch(hatch, colour)
  const edges = useMade(() => outlined(solid), [solid])
  return (
    <>
      <mesh geometry={solid} raycast={() => null}>
        <meshBasicMaterial map={texture} transparent depthWrite={false} side={DoubleSide} />
      </mesh>
      {edges && (
        <lineSegments geometry={edges} raycast={() => null}>
          <lineBasicMaterial color={colour} />
        </lineSegments>
      )}
    </>
  )
}

const upright = (shape: Shape, low: number, high: number): BufferGeometry =>
  new ExtrudeGeometry(outlineOf(shape), {
    depth: Math.max(Math.min(high - low, HIGHEST), 0.1),
    bevelEnabled: false,
    curveSegments: 24,
  }).translate(0, 0, low)

interface Props {
  readonly bodies: readonly Body[]
  readonly lifts: readonly number[]
  readonly colours: Colours
}

export function Corridors({ bodies, lifts, colours }: Props) {
  const solid = useMade(
    () =>
      merged(
        bodies.flatMap((body) =>
          corridorsOf(body).map(({ shape, z }) => {
            const lift = lifts[body.deck] ?? 0
            return upright(shape, z[0] / 1000 + lift, z[1] / 1000 + lift)
          }),
        ),
      ),
    [bodies, lifts],
  )
  return solid ? <Hatched solid={solid} hatch="corridor" colour={colours.corridor} /> : null
}

/** Of heads that do not say what they carry: sector and tail as the rules keep them free. */
export function StatedSweeps({ problem, bodies, lifts, colours }: Props & { readonly problem: Problem }) {
  const solid = useMade(
    () =>
      merged(
        bodies.flatMap((body) => {
          const sweep = sweepOf(problem, body)
          const lift = lifts[body.deck] ?? 0
          return (sweep?.shapes ?? [])
            .filter((s) => s.kind !== 'circle' || s.r > 0)
            .map((s) => upright(s, sweep!.z[0] / 1000 + lift, sweep!.z[1] / 1000 + lift))
        }),
      ),
    [problem, bodies, lifts],
  )
  return solid ? <Hatched solid={solid} hatch="sweep" colour={colours.sweep} /> : null
}

const KINDS = ['keep-out', 'reserved', 'view', 'underside'] as const satisfies readonly Zone['kind'][]

function ZonesOf({
  kind,
  problem,
  lifts,
  hidden,
  colour,
}: {
  readonly kind: (typeof KINDS)[number]
  readonly problem: Problem
  readonly lifts: readonly number[]
  readonly hidden: (deck: string) => boolean
  readonly colour: string
}) {
  const zones = useMemo(
    () => problem.zones.filter((z) => z.kind === kind && !hidden(problem.decks[z.deck]?.id ?? '')),
    [problem, kind, hidden],
  )
  const flat = useMade(
    () =>
      merged(
        zones.map((zone) => {
          const deck = problem.decks[zone.deck]
          const z = (deck?.z ?? 0) / 1000 + (lifts[zone.deck] ?? 0)
          // What must not be drilled through is seen from below as well.
          return new ShapeGeometry(outlineOf(zone.shape), 24).translate(0, 0, z + 0.3)
        }),
      ),
    [zones, problem, lifts],
  )
  return flat ? <Hatched solid={flat} hatch={kind} colour={colour} /> : null
}

interface ZonesProps {
  readonly problem: Problem
  readonly lifts: readonly number[]
  readonly hidden: (deck: string) => boolean
  readonly colours: Colours
}

export function Zones({ colours, ...rest }: ZonesProps) {
  return KINDS.map((kind) => (
    <ZonesOf key={kind} kind={kind} {...rest} colour={kind === 'keep-out' ? colours.warning : colours.reserved} />
  ))
}
