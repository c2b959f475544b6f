/** Tie points: one small disc each, all in one draw call; covered ones lie under their part and are not drawn. */
import { useThree } from '@react-three/fiber'
import { useLayoutEffect, useMemo, useRef } from 'react'
import { CircleGeometry, type InstancedMesh, Matrix4 } from 'three'
import type { Placement, Problem } from '../../solver/index.ts'
import { splitTiePoints } from '../store/tie-points.ts'
import { useMade } from './geometry.ts'
import type { Box } from './solids.ts'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** The boards that are simply shown. */
  readonly boards: readonly Box[]
  readonly colour: string
}

export function Contacts({ problem, placements, boards, colour }: Props) {
  const mesh = useRef<InstancedMesh>(null)
  const invalidate = useThree((s) => s.invalidate)
  const disc = useMade(() => new CircleGeometry(0.7, 8), [])
  const points = useMemo(
    () =>
      boards
        .filter((b) => b.board)
        .flatMap((b) => {
          const z = b.z + b.h / 2 + 0.15
          const at = placements.find((p) => p.item === b.item)
          if (!at) return []
          return splitTiePoints(problem, placements, at).free.map((t) => ({ x: t.x / 1000, y: t.y / 1000, z }))
        }),
    [problem, placements, boards],
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
