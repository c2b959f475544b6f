/** Wires as straight rectilinear bars, and their numbers, which face whoever looks: two draws for all of them. */
import { useThree } from '@react-three/fiber'
import { useLayoutEffect, useMemo, useRef } from 'react'
import {
  BufferGeometry,
  CanvasTexture,
  Color,
  Float32BufferAttribute,
  type InstancedMesh,
  LinearFilter,
  Matrix4,
  Vector3,
} from 'three'
import type { Colours } from './colours.ts'
import { useCube, useMade } from './geometry.ts'
import type { Run } from './runs.ts'

interface Props {
  readonly runs: readonly Run[]
  /** Wires that are pointed at or belong to what is in hand, and those with too little to spare. */
  readonly strong: ReadonlySet<number>
  readonly tight: ReadonlySet<number>
  readonly colours: Colours
}

/** mm */
const THICK = 1.1

function Bars({ runs, strong, tight, colours }: Props) {
  const cube = useCube()
  const mesh = useRef<InstancedMesh>(null)
  const invalidate = useThree((s) => s.invalidate)
  const pieces = useMemo(
    () =>
      runs.flatMap((r) =>
        r.pieces.flatMap((piece) => piece.slice(1).map((b, i) => ({ wire: r.wire, a: piece[i]!, b }))),
      ),
    [runs],
  )
  useLayoutEffect(() => {
    const all = mesh.current
    if (!all) return
    const matrix = new Matrix4()
    const colour = new Color()
    const [x, y, z] = [new Vector3(), new Vector3(), new Vector3()]
    pieces.forEach(({ wire, a, b }, i) => {
      const t = strong.has(wire) ? THICK * 2 : THICK
      x.set(b[0] - a[0], b[1] - a[1], b[2] - a[2])
      const length = x.length()
      x.normalize()
      z.set(0, 0, 1)
      if (Math.abs(x.z) > 0.9) z.set(1, 0, 0)
      y.crossVectors(z, x).normalize()
      z.crossVectors(x, y)
      matrix.makeBasis(x.multiplyScalar(length + t), y.multiplyScalar(t), z.multiplyScalar(t))
      matrix.setPosition((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)
      all.setMatrixAt(i, matrix)
      all.setColorAt(i, colour.set(tight.has(wire) ? colours.warning : strong.has(wire) ? colours.held : colours.wire))
    })
    all.instanceMatrix.needsUpdate = true
    if (all.instanceColor) all.instanceColor.needsUpdate = true
    all.computeBoundingSphere()
    invalidate()
  }, [pieces, strong, tight, colours, invalidate])
  return (
    <instancedMesh key={pieces.length} ref={mesh} args={[cube, undefined, pieces.length]} raycast={() => null}>
      <meshBasicMaterial />
    </instancedMesh>
  )
}

const CELL = 64

/** Every number in a disc, a tight one in a square, as cells of one picture; row by row from the upper left. */
function drawn(
  numbers: readonly { readonly text: string; readonly tight: boolean; readonly strong: boolean }[],
  side: number,
  colours: Colours,
) {
  const canvas = document.createElement('canvas')
  canvas.width = side * CELL
  canvas.height = side * CELL
  const pen = canvas.getContext('2d')
  if (pen) {
    pen.textAlign = 'center'
    pen.textBaseline = 'middle'
    numbers.forEach(({ text, tight, strong }, i) => {
      const x = (i % side) * CELL + CELL / 2
      const y = Math.floor(i / side) * CELL + CELL / 2
      const r = CELL / 2 - 5
      pen.beginPath()
      if (tight) pen.rect(x - r, y - r, 2 * r, 2 * r)
      else pen.arc(x, y, r, 0, 2 * Math.PI)
      pen.fillStyle = strong ? colours.held : colours.sheet
      pen.fill()
      pen.lineWidth = 5
      pen.strokeStyle = tight ? colours.warning : colours.wire
      pen.stroke()
      pen.fillStyle = strong ? colours.sheet : colours.ink
      pen.font = `600 ${text.length > 2 ? 24 : 32}px sans-serif`
      pen.fillText(text, x, y + 2)
    })
  }
  const texture = new CanvasTexture(canvas)
  // mixing with neighbours would blur small cells together
  texture.generateMipmaps = false
  texture.minFilter = LinearFilter
  return texture
}

const VERTEX = `
attribute vec2 cell;
uniform float size;
varying vec2 from;
void main() {
  from = cell;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  gl_PointSize = size;
}`

const FRAGMENT = `
uniform sampler2D picture;
uniform float side;
varying vec2 from;
void main() {
  vec4 c = texture2D(picture, (from + vec2(gl_PointCoord.x, 1.0 - gl_PointCoord.y)) / side);
  if (c.a < 0.1) discard;
  gl_FragColor = c;
}`

/** Pixels of a number on the screen. */
const SIZE = 19

function Numbers({ runs, strong, tight, colours }: Props) {
  const ratio = useThree((s) => s.viewport.dpr)
  const side = Math.ceil(Math.sqrt(runs.length))
  const picture = useMade(
    () =>
      drawn(
        runs.map(({ wire }) => ({ text: String(wire + 1), tight: tight.has(wire), strong: strong.has(wire) })),
        side,
        colours,
      ),
    [runs, strong, tight, side, colours],
  )
  const points = useMade(() => {
    const made = new BufferGeometry()
    made.setAttribute(
      'position',
      new Float32BufferAttribute(
        runs.flatMap((r) => r.middle),
        3,
      ),
    )
    const cells = runs.flatMap((_, i) => [i % side, side - 1 - Math.floor(i / side)])
    made.setAttribute('cell', new Float32BufferAttribute(cells, 2))
    return made
  }, [runs, side])
  const uniforms = useMemo(
    () => ({ picture: { value: picture }, side: { value: side }, size: { value: SIZE * ratio } }),
    [picture, side, ratio],
  )
  return (
    <points geometry={points} raycast={() => null} renderOrder={9}>
      <shaderMaterial
        key={picture.uuid}
        args={[{ uniforms, vertexShader: VERTEX, fragmentShader: FRAGMENT }]}
        transparent
        depthTest={false}
        depthWrite={false}
      />
    </points>
  )
}

export function Wires(props: Props) {
  if (props.runs.length === 0) return null
  return (
    <>
      <Bars {...props} />
      <Numbers {...props} />
    </>
  )
}
