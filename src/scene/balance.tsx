/** Where the weight hangs: a ball at the centre of gravity, the plumb line to the ground, what the robot stands on, and its tracks. */
import { useMemo } from 'react'
import { CanvasTexture, NearestFilter, Shape as Outline, ShapeGeometry, SphereGeometry, SRGBColorSpace } from 'three'
import type { Hanging, Stood } from '../store/balance-view.ts'
import type { Colours } from './colours.ts'
import { linesOf, useCube, useMade } from './geometry.ts'
import { Hatched } from './rooms.tsx'

/** mm */
const BALL = 7

/** Light and dark eighths: the usual sign of a centre of gravity, in the round. */
function eighths(light: string, dark: string): CanvasTexture {
  const canvas = document.createElement('canvas')
  canvas.width = 4
  canvas.height = 2
  const pen = canvas.getContext('2d')
  if (pen)
    for (let x = 0; x < 4; x++)
      for (let y = 0; y < 2; y++) {
        pen.fillStyle = (x + y) % 2 === 0 ? light : dark
        pen.fillRect(x, y, 1, 1)
      }
  const texture = new CanvasTexture(canvas)
  texture.magFilter = NearestFilter
  texture.minFilter = NearestFilter
  texture.generateMipmaps = false
  texture.colorSpace = SRGBColorSpace
  return texture
}

/** From the ball to the ground, with a cross where they meet: upright where it stands, oblique where it tips. */
function plumb({ centre, foot, tips }: Hanging, arm: number): number[] {
  const [x, y] = [foot.x, foot.y]
  const cross = tips
    ? [x - arm, y - arm, 0.6, x + arm, y + arm, 0.6, x - arm, y + arm, 0.6, x + arm, y - arm, 0.6]
    : [x - arm, y, 0.6, x + arm, y, 0.6, x, y - arm, 0.6, x, y + arm, 0.6]
  return [centre.x, centre.y, centre.z, x, y, 0.6, ...cross]
}

interface HangsProps {
  readonly hanging: Hanging
  readonly colours: Colours
  /** Of the worst loading: only an outline. */
  readonly worst: boolean
}

function Hangs({ hanging, colours, worst }: HangsProps) {
  const { centre, tips } = hanging
  const ball = useMade(() => new SphereGeometry(BALL, worst ? 10 : 24, worst ? 6 : 16).rotateX(Math.PI / 2), [worst])
  const sign = useMade(() => (worst ? undefined : eighths(colours.sheet, colours.ink)), [worst, colours])
  const lines = useMade(() => linesOf(plumb(hanging, worst ? 4 : 8)), [hanging, worst])
  const colour = tips ? colours.warning : colours.ink
  return (
    <>
      <mesh geometry={ball} position={[centre.x, centre.y, centre.z]} raycast={() => null} renderOrder={8}>
        {sign ? (
          <meshBasicMaterial map={sign} depthTest={false} transparent />
        ) : (
          <meshBasicMaterial color={colour} wireframe depthTest={false} transparent />
        )}
      </mesh>
      {lines && (
        <lineSegments geometry={lines} raycast={() => null} renderOrder={8}>
          <lineBasicMaterial color={colour} depthTest={false} transparent />
        </lineSegments>
      )}
    </>
  )
}

/** mm: how wide a track is, the file does not say. */
const TRACK = 6

export function Balance({ stood, colours }: { readonly stood: Stood; readonly colours: Colours }) {
  const cube = useCube()
  const { stands, span, now, worst } = stood
  const area = useMade(() => {
    const [first, ...rest] = stands
    if (!first) return undefined
    const outline = new Outline()
    outline.moveTo(first.x, first.y)
    for (const p of rest) outline.lineTo(p.x, p.y)
    outline.closePath()
    return new ShapeGeometry(outline).translate(0, 0, 0.3)
  }, [stands])
  const tracks = useMemo(() => [span.left, span.right], [span])
  const apart =
    Math.hypot(worst.centre.x - now.centre.x, worst.centre.y - now.centre.y, worst.centre.z - now.centre.z) > 0.5
  return (
    <>
      {area && <Hatched solid={area} hatch="stands" colour={colours.covered} />}
      {tracks.map((x) => (
        <mesh
          key={x}
          geometry={cube}
          position={[x, (span.back + span.front) / 2, 0]}
          scale={[TRACK, span.front - span.back, 2]}
          raycast={() => null}
        >
          <meshLambertMaterial color={colours.covered} />
        </mesh>
      ))}
      <Hangs hanging={now} colours={colours} worst={false} />
      {apart && <Hangs hanging={worst} colours={colours} worst />}
    </>
  )
}
