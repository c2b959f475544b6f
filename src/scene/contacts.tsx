/** Tie points: one small disc each, all in one draw call; covered ones lie under their part and are not drawn. */
import { useThree } from '@react-three/fiber'
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react'
import { CircleGeometry, type InstancedMesh, Matrix4 } from 'three'
import type { Placement, Problem } from '../../solver/index.ts'
import { splitTiePoints } from '../store/tie-points.ts'
import { heightsOf } from './heights.ts'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly colour: string
}

export function Contacts({ problem, placements, colour }: Props) {
  const mesh = useRef<InstancedMesh>(null)
  const invalidate = useThree((s) => s.invalidate)
  const disc = useMemo(() => new CircleGeometry(0.7, 8), [])
  useEffect(() => () => disc.dispose(), [disc])
  const points = useMemo(
    () =>
      placements
        .filter((p) => problem.items[p.item]?.footprint.breadboard)
        .flatMap((p) => {
          const z = heightsOf(problem, placements, p).top + 0.15
          return splitTiePoints(problem, placements, p).free.map((t) => ({ x: t.x / 1000, y: t.y / 1000, z }))
        }),
    [problem, placements],
  )
  useLayoutEffect(() => {
    const all = mesh.current
    if (!all) return
    const matrix = new Matrix4()
    points.forEach((p, i) => {
      all.setMatrixAt(i, matrix.makeTranslation(p.x, p.y, p.z))
    })
    all.instanceMatrix.needsUpdate = true
    all.computeBoundingSphere()
    invalidate()
  }, [points, invalidate])
  if (points.length === 0) return null
  return (
    <instancedMesh key={points.length} ref={mesh} args={[disc, undefined, points.length]} raycast={() => null}>
      <meshBasicMaterial color={colour} />
    </instancedMesh>
  )
}
