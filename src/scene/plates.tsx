/** The decks: plates of true thickness with their openings and holes. */
import { memo, useEffect, useMemo } from 'react'
import { EdgesGeometry, ExtrudeGeometry } from 'three'
import type { Problem } from '../../solver/index.ts'
import type { Colours } from './colours.ts'
import { holeOf, outlineOf } from './outlines.ts'

function Plate({ problem, index, colours }: { problem: Problem; index: number; colours: Colours }) {
  const made = useMemo(() => {
    const deck = problem.decks[index]
    if (!deck) return undefined
    const outline = outlineOf(deck.outline)
    const round = [
      ...deck.holes.map((h) => ({ at: h.at, diameter: h.diameter })),
      ...problem.exits.filter((e) => e.deck === index),
      ...problem.passes.filter((p) => p.decks.includes(index)),
    ]
    for (const opening of deck.openings) outline.holes.push(holeOf(opening.shape))
    for (const { at, diameter } of round)
      if (diameter) outline.holes.push(holeOf({ kind: 'circle', cx: at.x, cy: at.y, r: (diameter / 2) as typeof at.x }))
    const plate = new ExtrudeGeometry(outline, {
      depth: deck.thickness / 1000,
      bevelEnabled: false,
      curveSegments: 24,
    })
    return { plate, edges: new EdgesGeometry(plate, 30), z: (deck.z - deck.thickness) / 1000 }
  }, [problem, index])
  useEffect(
    () => () => {
      made?.plate.dispose()
      made?.edges.dispose()
    },
    [made],
  )
  if (!made) return null
  // An upper deck must not hide what stands under it.
  const upper = problem.decks.some((other, i) => i !== index && other.z < (problem.decks[index]?.z ?? 0))
  return (
    <group position={[0, 0, made.z]}>
      <mesh geometry={made.plate} raycast={() => null}>
        <meshLambertMaterial color={colours.deck} transparent={upper} opacity={upper ? 0.55 : 1} depthWrite={!upper} />
      </mesh>
      <lineSegments geometry={made.edges} raycast={() => null}>
        <lineBasicMaterial color={colours.edge} />
      </lineSegments>
    </group>
  )
}

export const Plates = memo(function Plates({ problem, colours }: { problem: Problem; colours: Colours }) {
  return problem.decks.map((deck, index) => <Plate key={deck.id} problem={problem} index={index} colours={colours} />)
})
