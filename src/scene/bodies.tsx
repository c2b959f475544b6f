/** Bodies as boxes of true height, those that are hinted at, what is stacked on them, and stand-offs: each kind is one draw. */
import { type ThreeEvent, useThree } from '@react-three/fiber'
import { useLayoutEffect, useRef } from 'react'
import { Color, CylinderGeometry, type InstancedMesh, Matrix4 } from 'three'
import type { Colours } from './colours.ts'
import { linesOf, useCube, useMade } from './geometry.ts'
import { type Box, edgesOf, type Post, type Solids } from './solids.ts'

interface Hands {
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly onSelect: (id: string | undefined) => void
  readonly onHover: (id: string | undefined) => void
  /** A press on the item in hand: whether it is taken, so that the view does not turn. */
  readonly onGrip?: ((id: string, event: ThreeEvent<PointerEvent>) => void) | undefined
}

interface Props extends Hands {
  readonly solids: Solids
  readonly colours: Colours
  readonly faulty: ReadonlySet<string>
}

/** Room for `n` and some more, so that one part more does not make everything anew. */
const roomFor = (n: number): number => 2 ** Math.ceil(Math.log2(Math.max(n, 16)))

interface BoxesProps extends Hands {
  readonly boxes: readonly Box[]
  readonly colours: Colours
  readonly opacity: number
  /** Whether they can be pointed at. */
  readonly there: boolean
}

function Boxes({ boxes, colours, opacity, there, selected, hovered, onSelect, onHover, onGrip }: BoxesProps) {
  const cube = useCube()
  const mesh = useRef<InstancedMesh>(null)
  const invalidate = useThree((s) => s.invalidate)
  const room = roomFor(boxes.length)
  // biome-ignore lint/correctness/useExhaustiveDependencies: with more room the mesh is another
  useLayoutEffect(() => {
    const all = mesh.current
    if (!all) return
    const matrix = new Matrix4()
    const colour = new Color()
    const held = new Color(colours.held)
    boxes.forEach((b, i) => {
      matrix.makeScale(b.w, b.d, b.h).setPosition(b.x, b.y, b.z)
      all.setMatrixAt(i, matrix)
      colour.set(b.board ? colours.board : colours.body)
      if (there && (b.id === selected || b.id === hovered)) colour.lerp(held, 0.45)
      all.setColorAt(i, colour)
    })
    all.count = boxes.length
    all.instanceMatrix.needsUpdate = true
    if (all.instanceColor) all.instanceColor.needsUpdate = true
    all.computeBoundingSphere()
    invalidate()
  }, [boxes, colours, selected, hovered, there, room, invalidate])
  const idOf = (event: { instanceId?: number | undefined }): string | undefined =>
    event.instanceId === undefined ? undefined : boxes[event.instanceId]?.id
  const solid = opacity === 1
  if (!there)
    return (
      <instancedMesh key={room} ref={mesh} args={[cube, undefined, room]} raycast={() => null}>
        <meshBasicMaterial transparent opacity={opacity} depthWrite={false} />
      </instancedMesh>
    )
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: no element of the page; plan and list do the same by keyboard
    <instancedMesh
      key={room}
      ref={mesh}
      args={[cube, undefined, room]}
      onPointerDown={(event: ThreeEvent<PointerEvent>) => {
        const id = idOf(event)
        if (id === undefined) return
        event.stopPropagation()
        if (id === selected) onGrip?.(id, event)
      }}
      onClick={(event: ThreeEvent<MouseEvent>) => {
        event.stopPropagation()
        // A click that ends a turn of the view is none.
        if (event.delta <= 4) onSelect(idOf(event))
      }}
      onPointerOver={(event: ThreeEvent<PointerEvent>) => {
        event.stopPropagation()
        onHover(idOf(event))
      }}
      onPointerOut={() => onHover(undefined)}
    >
      <meshLambertMaterial transparent={!solid} opacity={opacity} depthWrite={solid} />
    </instancedMesh>
  )
}

function Posts({ posts, colour }: { readonly posts: readonly Post[]; readonly colour: string }) {
  const mesh = useRef<InstancedMesh>(null)
  const invalidate = useThree((s) => s.invalidate)
  const round = useMade(() => new CylinderGeometry(1, 1, 1, 10).rotateX(Math.PI / 2), [])
  const room = roomFor(posts.length)
  // biome-ignore lint/correctness/useExhaustiveDependencies: with more room the mesh is another
  useLayoutEffect(() => {
    const all = mesh.current
    if (!all) return
    const matrix = new Matrix4()
    posts.forEach((p, i) => {
      matrix.makeScale(p.r, p.r, p.high - p.low).setPosition(p.x, p.y, (p.high + p.low) / 2)
      all.setMatrixAt(i, matrix)
    })
    all.count = posts.length
    all.instanceMatrix.needsUpdate = true
    all.computeBoundingSphere()
    invalidate()
  }, [posts, room, invalidate])
  return (
    <instancedMesh key={room} ref={mesh} args={[round, undefined, room]} raycast={() => null}>
      <meshLambertMaterial color={colour} />
    </instancedMesh>
  )
}

/** Outlines of all boxes at once; what is in hand or wrong has a second one round it. */
function Outlines({ solids, colours, selected, hovered, faulty }: Omit<Props, keyof Hands> & Partial<Hands>) {
  const lines = useMade(() => {
    const points: number[] = []
    const tints: number[] = []
    const add = (box: Box, by: number, name: string): void => {
      const edges = edgesOf(box, by)
      const { r, g, b } = new Color(name)
      points.push(...edges)
      for (let i = 0; i < edges.length; i += 3) tints.push(r, g, b)
    }
    for (const box of [...solids.solid, ...solids.ghosts]) {
      const wrong = faulty.has(box.id)
      const lit = box.id === selected || box.id === hovered
      add(box, 0, wrong ? colours.warning : lit ? colours.held : colours.edge)
      if (lit) add(box, 0.6, colours.held)
      if (wrong) for (const by of [1.2, 1.8]) add(box, by, colours.warning)
    }
    for (const box of solids.stacks) add(box, 0, colours.covered)
    return linesOf(points, tints)
  }, [solids, colours, selected, hovered, faulty])
  if (!lines) return null
  return (
    <lineSegments geometry={lines} raycast={() => null}>
      <lineBasicMaterial vertexColors />
    </lineSegments>
  )
}

export function Bodies(props: Props) {
  const { solids, colours } = props
  return (
    <>
      <Boxes {...props} boxes={solids.solid} opacity={1} there />
      {solids.ghosts.length > 0 && <Boxes {...props} boxes={solids.ghosts} opacity={0.3} there />}
      {solids.stacks.length > 0 && <Boxes {...props} boxes={solids.stacks} opacity={0.2} there={false} />}
      {solids.posts.length > 0 && <Posts posts={solids.posts} colour={colours.covered} />}
      <Outlines {...props} />
    </>
  )
}
