/** Hatches as textures: in 3D too a role differs by more than its colour. The geometries' own coordinates are millimetres. */
import { CanvasTexture, RepeatWrapping, SRGBColorSpace } from 'three'
import { useMade } from './geometry.ts'

/** Lines of a tile with sides of 1: pairs of points; the plan hatches the same roles the same way. */
const TILES = {
  corridor: { mm: 4, lines: [-0.5, 0.5, 0.5, 1.5, 0, 0, 1, 1, 0.5, -0.5, 1.5, 0.5] },
  sweep: { mm: 6, lines: [0.5, 0.1, 0.5, 0.6] },
  'keep-out': { mm: 5, lines: [0, 0, 1, 1, 0, 1, 1, 0] },
  reserved: { mm: 6, lines: [0, 1, 1, 0, -0.5, 0.5, 0.5, -0.5, 0.5, 1.5, 1.5, 0.5] },
  view: { mm: 6, lines: [0.5, 0.42, 0.5, 0.58] },
  underside: { mm: 5, lines: [0, 0.5, 1, 0.5] },
  stands: { mm: 12, lines: [0, 0.25, 0.5, 0.25, 0.5, 0.75, 1, 0.75] },
} as const

export type Hatch = keyof typeof TILES

const PIXELS = 64

/** `tint`: how much of the colour lies between the lines, 0 to 1. */
function hatchOf(kind: Hatch, colour: string, tint: number): CanvasTexture {
  const { mm, lines } = TILES[kind]
  const canvas = document.createElement('canvas')
  canvas.width = PIXELS
  canvas.height = PIXELS
  const pen = canvas.getContext('2d')
  if (pen) {
    pen.fillStyle = colour
    pen.globalAlpha = tint
    pen.fillRect(0, 0, PIXELS, PIXELS)
    pen.globalAlpha = 0.9
    pen.strokeStyle = colour
    pen.lineWidth = PIXELS / 11
    pen.lineCap = 'round'
    pen.beginPath()
    for (let i = 0; i + 3 < lines.length; i += 4) {
      pen.moveTo(lines[i]! * PIXELS, (1 - lines[i + 1]!) * PIXELS)
      pen.lineTo(lines[i + 2]! * PIXELS, (1 - lines[i + 3]!) * PIXELS)
    }
    pen.stroke()
  }
  const texture = new CanvasTexture(canvas)
  texture.wrapS = RepeatWrapping
  texture.wrapT = RepeatWrapping
  texture.repeat.set(1 / mm, 1 / mm)
  texture.colorSpace = SRGBColorSpace
  texture.anisotropy = 4
  return texture
}

export const useHatch = (kind: Hatch, colour: string, tint = 0.16): CanvasTexture =>
  useMade(() => hatchOf(kind, colour, tint), [kind, colour, tint])
