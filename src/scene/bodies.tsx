/** Bodies as boxes of true height, what is reserved on them as ghosts, and the sweep of a head. */
import type { ThreeEvent } from '@react-three/fiber'
import { memo, useEffect, useMemo } from 'react'
import { BoxGeometry, EdgesGeometry, ExtrudeGeometry } from 'three'
import { type Placement, type Problem, turnedSize, turnPoint } from '../../solver/index.ts'
import type { Colours } from './colours.ts'
import { type Heights, heightsOf } from './heights.ts'
import { outlineOf } from './outlines.ts'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly colours: Colours
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly faulty: ReadonlySet<string>
  readonly onSelect: (id: string | undefined) => void
  readonly onHover: (id: string | undefined) => void
}

/** One unit cube for every box. */
const useCube = () => {
  const cube = useMemo(() => {
    const box = new BoxGeometry(1, 1, 1)
    return { box, edges: new EdgesGeometry(box) }
  }, [])
  useEffect(
    () => () => {
      cube.box.dispose()
      cube.edges.dispose()
    },
    [cube],
  )
  return cube
}

const Sweep = memo(function Sweep({
  problem,
  placement,
  colour,
}: {
  problem: Problem
  placement: Placement
  colour: string
}) {
  const footprint = problem.items[placement.item]?.footprint
  const deck = problem.decks[placement.deck]
  const made = useMemo(() => {
    const head = footprint?.head
    if (!footprint || !head || !deck) return undefined
    const pivot = turnPoint(head.pivot, footprint.width, footprint.depth, placement.turn)
    const round = 90 + 90 * placement.turn
    const sector = outlineOf({
      kind: 'sector',
      cx: pivot.x,
      cy: pivot.y,
      r: head.reach,
      from: head.pan[0] + round,
      to: head.pan[1] + round,
    })
    const tail = outlineOf({ kind: 'circle', cx: pivot.x, cy: pivot.y, r: head.tail })
    const depth = (head.z[1] - head.z[0]) / 1000
    const low = (deck.z + head.z[0]) / 1000
    return [sector, tail].map((s) => ({
      geometry: new ExtrudeGeometry(s, { depth, bevelEnabled: false, curveSegments: 32 }),
      low,
    }))
  }, [footprint, deck, placement.turn])
  useEffect(
    () => () => {
      for (const part of made ?? []) part.geometry.dispose()
    },
    [made],
  )
  return made?.map(({ geometry, low }) => (
    <mesh
      key={geometry.uuid}
      geometry={geometry}
      position={[placement.at.x / 1000, placement.at.y / 1000, low]}
      raycast={() => null}
    >
      <meshBasicMaterial color={colour} transparent opacity={0.22} depthWrite={false} />
    </mesh>
  ))
})

export function Bodies(props: Props) {
  const { problem, placements, colours, selected, hovered, faulty, onSelect, onHover } = props
  const cube = useCube()
  return placements.map((p) => {
    const item = problem.items[p.item]
    if (!item) return null
    const { low, top, stacked }: Heights = heightsOf(problem, placements, p)
    const size = turnedSize(item.footprint.width, item.footprint.depth, p.turn)
    const w = size.w / 1000
    const d = size.h / 1000
    const x = p.at.x / 1000 + w / 2
    const y = p.at.y / 1000 + d / 2
    const lit = selected === item.id || hovered === item.id
    const colour = item.footprint.breadboard ? colours.board : colours.body
    const edge = faulty.has(item.id) ? colours.warning : lit ? colours.held : colours.edge
    return (
      <group key={item.id}>
        {/* biome-ignore lint/a11y/noStaticElementInteractions: no element of the page; plan and list do the same by keyboard */}
        <mesh
          geometry={cube.box}
          position={[x, y, (low + top) / 2]}
          scale={[w, d, Math.max(top - low, 0.1)]}
          onClick={(event: ThreeEvent<MouseEvent>) => {
            event.stopPropagation()
            // A click that ends a turn of the view is none.
            if (event.delta <= 4) onSelect(item.id)
          }}
          onPointerOver={(event: ThreeEvent<PointerEvent>) => {
            event.stopPropagation()
            onHover(item.id)
          }}
          onPointerOut={() => onHover(undefined)}
        >
          <meshLambertMaterial
            color={colour}
            emissive={lit ? colours.held : '#000000'}
            emissiveIntensity={lit ? 0.35 : 0}
            transparent={item.later}
            opacity={item.later ? 0.35 : 1}
          />
        </mesh>
        <lineSegments
          geometry={cube.edges}
          position={[x, y, (low + top) / 2]}
          scale={[w, d, top - low]}
          raycast={() => null}
        >
          <lineBasicMaterial color={edge} />
        </lineSegments>
        {stacked > top && (
          <mesh
            geometry={cube.box}
            position={[x, y, (top + stacked) / 2]}
            scale={[w, d, stacked - top]}
            raycast={() => null}
          >
            <meshBasicMaterial color={colours.body} transparent opacity={0.2} depthWrite={false} />
          </mesh>
        )}
        {item.footprint.head && <Sweep problem={problem} placement={p} colour={colours.sweep} />}
      </group>
    )
  })
}
