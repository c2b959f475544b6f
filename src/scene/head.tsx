/** A head at the angles of the sliders, what its parts truly sweep, and a dial about it: where it is free to pan at every tilt. */
import { memo, useMemo } from 'react'
import { BufferGeometry, Color, DoubleSide, Float32BufferAttribute, RingGeometry } from 'three'
import { type HeadPose, type HeadView, meets, poseOf } from '../store/head-view.ts'
import type { Colours } from './colours.ts'
import { linesOf, merged, useCube, useMade } from './geometry.ts'
import { useHatch } from './hatch.ts'
import { edgesOf } from './solids.ts'
import { sweptLayers, sweptSurface } from './swept.ts'

const RAD = Math.PI / 180

interface Props {
  readonly head: HeadView
  readonly pose: HeadPose
  readonly lift: number
  /** The deck's top, mm over the ground. */
  readonly ground: number
  readonly colours: Colours
  /** Whether sweep and dial are shown. */
  readonly swept: boolean
}

/** Payload and brackets as they stand at these angles. */
function Moving({ head, pose, colours }: Pick<Props, 'head' | 'pose' | 'colours'>) {
  const cube = useCube()
  const { parts } = head
  const wrong = useMemo(() => meets(head, pose), [head, pose])
  const boxes = useMemo(
    () =>
      parts.parts.map((p) => {
        const [x0, x1] = p.across
        const ys = p.side.map((s) => s.x)
        const zs = p.side.map((s) => s.y)
        const [y0, y1, z0, z1] = [Math.min(...ys), Math.max(...ys), Math.min(...zs), Math.max(...zs)]
        return {
          tilts: p.tilts,
          id: p.id,
          box: { item: 0, id: p.id, board: false, x: (x0 + x1) / 2, y: (y0 + y1) / 2, z: (z0 + z1) / 2 },
          size: { w: x1 - x0, d: y1 - y0, h: z1 - z0 },
        }
      }),
    [parts],
  )
  const edges = useMade(
    () =>
      boxes.flatMap(({ box, size }) => {
        const { r, g, b } = new Color(wrong ? colours.warning : colours.edge)
        const points = [...edgesOf({ ...box, ...size }), ...(wrong ? edgesOf({ ...box, ...size }, 0.8) : [])]
        return (
          linesOf(
            points,
            points.map((_, i) => [r, g, b][i % 3]!),
          ) ?? []
        )
      }),
    [boxes, wrong, colours],
  )
  return (
    <group rotation={[0, 0, (pose.pan + parts.base) * RAD]}>
      {boxes.map(({ tilts, id, box, size }, i) => (
        <group key={id} position={[0, parts.ahead, 0]} rotation={[tilts ? pose.tilt * RAD : 0, 0, 0]}>
          <mesh geometry={cube} position={[box.x, box.y, box.z]} scale={[size.w, size.d, size.h]} raycast={() => null}>
            <meshLambertMaterial color={wrong ? colours.warning : colours.body} />
          </mesh>
          {edges[i] && (
            <lineSegments geometry={edges[i]} raycast={() => null}>
              <lineBasicMaterial vertexColors />
            </lineSegments>
          )}
        </group>
      ))}
    </group>
  )
}

/** Over all angles; the tops of its layers show how high it reaches where. */
const Swept = memo(function Swept({ head, colour }: { readonly head: HeadView; readonly colour: string }) {
  // All but where it stands: moving about changes nothing of it, and it takes tens of milliseconds to work out.
  const { pivot: _, ...parts } = head.parts
  const shape = JSON.stringify(parts)
  const surface = useMade(() => {
    const { position, uv } = sweptSurface(sweptLayers(head.parts))
    const made = new BufferGeometry()
    made.setAttribute('position', new Float32BufferAttribute(position, 3))
    made.setAttribute('uv', new Float32BufferAttribute(uv, 2))
    return made
  }, [shape])
  const texture = useHatch('sweep', colour, 0.22)
  // Layers lie in one another; what is drawn is only what is seen first, so that the hatch stays a hatch.
  return (
    <>
      <mesh geometry={surface} raycast={() => null} renderOrder={4}>
        <meshBasicMaterial colorWrite={false} transparent side={DoubleSide} />
      </mesh>
      <mesh geometry={surface} raycast={() => null} renderOrder={5}>
        <meshBasicMaterial map={texture} transparent depthWrite={false} side={DoubleSide} />
      </mesh>
    </>
  )
})

const arc = (near: number, far: number, [a, b]: readonly [number, number], turn: number): BufferGeometry =>
  new RingGeometry(near, far, Math.max(1, Math.ceil((b - a) / 4)), 1, (a + turn) * RAD, (b - a) * RAD)

/** Free arcs are filled, the whole range is an outline about them, and a hand points where the head looks. */
function Dial({ head, pose, colours }: Pick<Props, 'head' | 'pose' | 'colours'>) {
  const { report, parts } = head
  const r = report.swept.reach + 4
  const turn = parts.base + 90
  const free = useMade(
    () => merged(report.freePan.filter(([a, b]) => b > a).map((span) => arc(r, r + 6, span, turn))),
    [report, r, turn],
  )
  const range = useMade(() => {
    const points: number[] = []
    const at = (deg: number, far: number): [number, number, number] => [
      far * Math.cos((deg + turn) * RAD),
      far * Math.sin((deg + turn) * RAD),
      0.1,
    ]
    const [a, b] = parts.pan
    const n = Math.max(1, Math.ceil((b - a) / 4))
    for (const far of [r, r + 6])
      for (let i = 0; i < n; i++)
        points.push(...at(a + ((b - a) * i) / n, far), ...at(a + ((b - a) * (i + 1)) / n, far))
    points.push(...at(a, r), ...at(a, r + 6), ...at(b, r), ...at(b, r + 6))
    // What is barred is crossed out.
    for (let deg = a + 2; deg < b; deg += 4)
      if (!report.freePan.some(([lo, hi]) => deg >= lo && deg <= hi))
        points.push(...at(deg - 2, r), ...at(deg + 2, r + 6))
    return linesOf(points)
  }, [parts, report, r, turn])
  const hand = useMade(() => {
    const made = new BufferGeometry()
    made.setAttribute('position', new Float32BufferAttribute([r - 3, 0, 0.2, r + 10, -3.5, 0.2, r + 10, 3.5, 0.2], 3))
    return made
  }, [r])
  return (
    <>
      {free && (
        <mesh geometry={free} raycast={() => null}>
          <meshBasicMaterial color={colours.free} side={DoubleSide} />
        </mesh>
      )}
      {range && (
        <lineSegments geometry={range} raycast={() => null}>
          <lineBasicMaterial color={colours.ink} />
        </lineSegments>
      )}
      <mesh geometry={hand} rotation={[0, 0, (pose.pan + turn) * RAD]} raycast={() => null}>
        <meshBasicMaterial color={colours.ink} side={DoubleSide} />
      </mesh>
    </>
  )
}

export function Head({ head, pose: asked, lift, ground, colours, swept }: Props) {
  const { parts } = head
  const pose = useMemo(() => poseOf(head, asked), [head, asked])
  const { x, y } = parts.pivot
  return (
    <>
      <group position={[x, y, parts.height + lift]}>
        <Moving head={head} pose={pose} colours={colours} />
      </group>
      {swept && (
        <>
          <group position={[x, y, lift]}>
            <Swept head={head} colour={colours.sweep} />
          </group>
          <group position={[x, y, ground + 0.5]}>
            <Dial head={head} pose={pose} colours={colours} />
          </group>
        </>
      )}
    </>
  )
}
