/** The decks: plates of true thickness with their openings and holes. */
import { memo } from 'react'
import { type BufferGeometry, ExtrudeGeometry } from 'three'
import type { Problem, Shape } from '../../solver/index.ts'
import { leftOf } from '../export/plate.ts'
import type { Way } from '../store/scene-view.ts'
import type { Colours } from './colours.ts'
import { useMade } from './geometry.ts'
import { holeOf, outlineOf } from './outlines.ts'
import { plateEdges } from './plate-edges.ts'

/** Lines that a curve of an outline is drawn with. */
const CURVE = 24

interface PlateProps {
  readonly problem: Problem
  readonly index: number
  readonly colours: Colours
  readonly lift: number
  readonly way: Way
}

const Plate = memo(function Plate({ problem, index, colours, lift, way }: PlateProps) {
  const deck = problem.decks[index]
  const { exits, passes } = problem
  const made = useMade((): readonly BufferGeometry[] => {
    if (!deck) return []
    const round = [
      ...deck.holes.map((h) => ({ at: h.at, diameter: h.diameter })),
      ...exits.filter((e) => e.deck === index),
      ...passes.filter((p) => p.decks.includes(index)),
    ]
    const circles = round.flatMap(({ at, diameter }): Shape[] =>
      diameter ? [{ kind: 'circle', cx: at.x, cy: at.y, r: (diameter / 2) as typeof at.x }] : [],
    )
    const pieces = leftOf(deck.outline, [...deck.openings.map((o) => o.shape), ...circles]).map((left) => {
      const piece = outlineOf(left.outline)
      piece.holes.push(...left.holes.map(holeOf))
      return piece
    })
    const depth = deck.thickness / 1000
    const plate = new ExtrudeGeometry(pieces, { depth, bevelEnabled: false, curveSegments: CURVE })
    const rims = pieces.flatMap((piece) => {
      const { shape, holes } = piece.extractPoints(CURVE)
      return [shape, ...holes]
    })
    return [plate, plateEdges(rims, depth)]
    // An edit of anything else leaves these the very same (src/store/share.ts), and the plate as it is.
  }, [deck, exits, passes, index])
  const [plate, edges] = made
  if (!deck || !plate || !edges) return null
  // An upper deck must not hide what stands under it.
  const upper = problem.decks.some((other, i) => i !== index && other.z < deck.z)
  const ghost = way === 'ghost'
  return (
    <group position={[0, 0, (deck.z - deck.thickness) / 1000 + lift]}>
      <mesh geometry={plate} raycast={() => null}>
        <meshLambertMaterial
          key={String(upper || ghost)}
          color={colours.deck}
          transparent={upper || ghost}
          opacity={ghost ? 0.15 : upper ? 0.55 : 1}
          depthWrite={!upper && !ghost}
        />
      </mesh>
      <lineSegments geometry={edges} raycast={() => null}>
        <lineBasicMaterial color={colours.edge} />
      </lineSegments>
    </group>
  )
})

interface Props {
  readonly problem: Problem
  readonly colours: Colours
  readonly lifts: readonly number[]
  readonly wayOf: (deck: string) => Way
}

export function Plates({ problem, colours, lifts, wayOf }: Props) {
  return problem.decks.map((deck, index) => {
    const way = wayOf(deck.id)
    if (way === 'hidden') return null
    return <Plate key={deck.id} problem={problem} index={index} colours={colours} lift={lifts[index] ?? 0} way={way} />
  })
}
