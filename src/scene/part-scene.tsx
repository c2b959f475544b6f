/** One part in the round on a piece of deck: body, contacts, the room that it asks for, and what a head sweeps. */
import { Canvas } from '@react-three/fiber'
import { useMemo, useState } from 'react'
import { bodiesOf, type Placement, type Problem } from '../../solver/index.ts'
import { headsOf } from '../store/head-view.ts'
import { boxOf } from '../store/outline.ts'
import { FIRST } from '../store/scene-view.ts'
import { Bodies } from './bodies.tsx'
import { useColours } from './colours.ts'
import { Contacts } from './contacts.tsx'
import { fineness } from './fineness.ts'
import { Head } from './head.tsx'
import { Plates } from './plates.tsx'
import { Corridors, StatedSweeps } from './rooms.tsx'
import { solidsOf } from './solids.ts'
import { Orbit, Watch } from './view.tsx'

interface Props {
  /** One deck with one item on it. */
  readonly problem: Problem
  readonly placement: Placement
  readonly label: string
  /** Drawn by the processor. */
  readonly slow: boolean
}

const NOBODY: ReadonlySet<string> = new Set()
const nothing = (): void => {}

const FLAT: readonly number[] = [0]
const AHEAD = { pan: 0, tilt: 0 }
const shown = (): 'shown' => 'shown'

export default function PartScene({ problem, placement, label, slow }: Props) {
  const colours = useColours()
  const [lost, setLost] = useState(false)
  const placements = useMemo(() => [placement], [placement])
  const footprint = problem.items[placement.item]?.footprint
  const bodies = useMemo(() => bodiesOf(problem, placements), [problem, placements])
  const solids = useMemo(() => solidsOf(problem, placements, FIRST, FLAT), [problem, placements])
  const heads = useMemo(() => headsOf(problem, placements, 1), [problem, placements])
  if (lost) throw new Error('the browser took the drawing surface away. Opening the part again may bring it back.')
  if (!footprint) return null
  const low = (bodies[0]?.bottom ?? 0) / 1000
  const top = (bodies[0]?.top ?? 0) / 1000
  const reach = (footprint.head?.reach ?? 0) / 1000
  const rooms = footprint.corridors.map((c) => boxOf(c.shape))
  const across = Math.max(footprint.width, ...rooms.map((b) => b.x + b.w)) - Math.min(0, ...rooms.map((b) => b.x))
  const along = Math.max(footprint.depth, ...rooms.map((b) => b.y + b.h)) - Math.min(0, ...rooms.map((b) => b.y))
  const high = Math.max(top - low, ...footprint.corridors.map((c) => Math.min(c.z[1] / 1000, 80)))
  const wide = Math.max(Math.hypot(across, along) / 1000 + 24, 2.4 * reach, 40)
  return (
    <div className="scene" role="img" aria-label={label}>
      <Canvas frameloop="demand" {...fineness(slow)} camera={{ up: [0, 0, 1], fov: 32, near: 1, far: 20_000 }}>
        <ambientLight intensity={1.6} />
        <directionalLight position={[-120, -200, 400]} intensity={1.9} />
        <directionalLight position={[300, 160, 120]} intensity={0.5} />
        <Plates problem={problem} colours={colours} lifts={FLAT} wayOf={shown} />
        <Bodies
          solids={solids}
          colours={colours}
          selected={undefined}
          hovered={undefined}
          faulty={NOBODY}
          onSelect={nothing}
          onHover={nothing}
        />
        <Contacts problem={problem} placements={placements} boards={solids.solid} colour={colours.free} />
        <Corridors bodies={bodies} lifts={FLAT} colours={colours} />
        {heads.length === 0 && <StatedSweeps problem={problem} bodies={bodies} lifts={FLAT} colours={colours} />}
        {heads.map((head) => (
          <Head
            key={head.id}
            head={head}
            pose={AHEAD}
            lift={0}
            ground={(problem.decks[0]?.z ?? 0) / 1000}
            colours={colours}
            swept
          />
        ))}
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
