/** The 3D view: drawn when something changed, and never at rest. */
import { Canvas } from '@react-three/fiber'
import { useCallback, useMemo, useState } from 'react'
import type { Finding, Placement, Problem } from '../../solver/index.ts'
import type { Camera } from '../store/camera.ts'
import { boxOf } from '../store/outline.ts'
import { Bodies } from './bodies.tsx'
import { useColours } from './colours.ts'
import { Contacts } from './contacts.tsx'
import { Plates } from './plates.tsx'
import { Orbit, Watch } from './view.tsx'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly faulty: readonly Finding[]
  readonly onSelect: (id: string | undefined) => void
  readonly onHover: (id: string | undefined) => void
  /** Shared by views that turn together. */
  readonly camera?: Camera
}

/** The middle of all decks, and how far off the camera must stand to see them, mm. */
function standOf(problem: Problem) {
  const boxes = problem.decks.map((d) => boxOf(d.outline))
  const x0 = Math.min(...boxes.map((b) => b.x))
  const x1 = Math.max(...boxes.map((b) => b.x + b.w))
  const y0 = Math.min(...boxes.map((b) => b.y))
  const y1 = Math.max(...boxes.map((b) => b.y + b.h))
  const zs = problem.decks.map((d) => d.z)
  const low = Math.min(...zs) / 1000
  const rise = Math.max(...zs.map((z) => z / 1000 - low), 0)
  const tallest = Math.max(...problem.items.map((i) => (i.footprint.height + i.stack) / 1000), 0)
  const high = rise + Math.max(tallest, 16)
  return {
    x: (x0 + x1) / 2000,
    y: (y0 + y1) / 2000,
    z: low + high * 0.38,
    distance: 1.62 * Math.max(Math.hypot(x1 - x0, y1 - y0) / 1000, 70) + 0.62 * high,
  }
}

export default function Scene(props: Props) {
  const { problem, placements, selected, hovered, faulty, onSelect, onHover, camera } = props
  const colours = useColours()
  const stand = useMemo(() => standOf(problem), [problem])
  const wrong = useMemo(() => new Set(faulty.flatMap((f) => f.items)), [faulty])
  const [lost, setLost] = useState(false)
  const lose = useCallback(() => setLost(true), [])
  if (lost) throw new Error('the browser took the drawing surface away. Loading the page again may bring it back.')
  return (
    <div className="scene" role="img" aria-label="3D view of the layout; the plan and the list of items tell the same">
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        camera={{ up: [0, 0, 1], fov: 32, near: 1, far: 20_000 }}
        gl={{ antialias: true, alpha: true }}
        onPointerMissed={(event) => {
          if (event.type === 'click') onSelect(undefined)
        }}
      >
        <ambientLight intensity={1.6} />
        <directionalLight position={[-120, -200, 400]} intensity={1.9} />
        <directionalLight position={[300, 160, 120]} intensity={0.5} />
        <Plates problem={problem} colours={colours} />
        <Bodies
          problem={problem}
          placements={placements}
          colours={colours}
          selected={selected}
          hovered={hovered}
          faulty={wrong}
          onSelect={onSelect}
          onHover={onHover}
        />
        <Contacts problem={problem} placements={placements} colour={colours.free} />
        <Orbit {...stand} shared={camera} />
        <Watch onLost={lose} />
      </Canvas>
    </div>
  )
}
