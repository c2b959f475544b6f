/** One part in the round on a piece of deck: body, contacts, the room that it asks for, and what a head sweeps. */
import { Canvas } from '@react-three/fiber'
import { memo, useEffect, useMemo, useState } from 'react'
import { ExtrudeGeometry } from 'three'
import type { Footprint, Placement, Problem } from '../../solver/index.ts'
import { boxOf } from '../store/outline.ts'
import { Bodies } from './bodies.tsx'
import { type Colours, useColours } from './colours.ts'
import { Contacts } from './contacts.tsx'
import { heightsOf } from './heights.ts'
import { outlineOf } from './outlines.ts'
import { Plates } from './plates.tsx'
import { Orbit, Watch } from './view.tsx'

interface Props {
  /** One deck with one item on it. */
  readonly problem: Problem
  readonly placement: Placement
  readonly label: string
}

const NOBODY: ReadonlySet<string> = new Set()
const nothing = (): void => {}

/** Corridors as ghosts, from the body's own underside. */
const Rooms = memo(function Rooms({
  footprint,
  at,
  low,
  colours,
}: {
  footprint: Footprint
  at: Placement['at']
  low: number
  colours: Colours
}) {
  const made = useMemo(
    () =>
      footprint.corridors.map((c) => ({
        id: c.id,
        z: low + c.z[0] / 1000,
        geometry: new ExtrudeGeometry(outlineOf(c.shape), {
          depth: Math.max((c.z[1] - c.z[0]) / 1000, 0.1),
          bevelEnabled: false,
        }),
      })),
    [footprint, low],
  )
  useEffect(
    () => () => {
      for (const { geometry } of made) geometry.dispose()
    },
    [made],
  )
  return made.map(({ id, z, geometry }) => (
    <mesh key={id} geometry={geometry} position={[at.x / 1000, at.y / 1000, z]} raycast={() => null}>
      <meshBasicMaterial color={colours.corridor} transparent opacity={0.3} depthWrite={false} />
    </mesh>
  ))
})

export default function PartScene({ problem, placement, label }: Props) {
  const colours = useColours()
  const [lost, setLost] = useState(false)
  const placements = useMemo(() => [placement], [placement])
  const footprint = problem.items[placement.item]?.footprint
  if (lost) throw new Error('the browser took the drawing surface away. Opening the part again may bring it back.')
  if (!footprint) return null
  const { low, top } = heightsOf(problem, placements, placement)
  const reach = (footprint.head?.reach ?? 0) / 1000
  const rooms = footprint.corridors.map((c) => boxOf(c.shape))
  const across = Math.max(footprint.width, ...rooms.map((b) => b.x + b.w)) - Math.min(0, ...rooms.map((b) => b.x))
  const along = Math.max(footprint.depth, ...rooms.map((b) => b.y + b.h)) - Math.min(0, ...rooms.map((b) => b.y))
  const high = Math.max(top - low, ...footprint.corridors.map((c) => Math.min(c.z[1] / 1000, 80)))
  const wide = Math.max(Math.hypot(across, along) / 1000 + 24, 2.4 * reach, 40)
  return (
    <div className="scene" role="img" aria-label={label}>
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        camera={{ up: [0, 0, 1], fov: 32, near: 1, far: 20_000 }}
        gl={{ antialias: true, alpha: true }}
      >
        <ambientLight intensity={1.6} />
        <directionalLight position={[-120, -200, 400]} intensity={1.9} />
        <directionalLight position={[300, 160, 120]} intensity={0.5} />
        <Plates problem={problem} colours={colours} />
        <Bodies
          problem={problem}
          placements={placements}
          colours={colours}
          selected={undefined}
          hovered={undefined}
          faulty={NOBODY}
          onSelect={nothing}
          onHover={nothing}
        />
        <Contacts problem={problem} placements={placements} colour={colours.free} />
        <Rooms footprint={footprint} at={placement.at} low={low} colours={colours} />
        <Orbit
          x={(placement.at.x + footprint.width / 2) / 1000}
          y={(placement.at.y + footprint.depth / 2) / 1000}
          z={(low + top) / 2}
          distance={1.75 * wide + 0.8 * high}
        />
        <Watch onLost={() => setLost(true)} />
      </Canvas>
    </div>
  )
}
