/** How the words of this folder write figures and places. Another language may write them in another way. */
import { clip } from '../../footprints/problems.ts'
import type { Where } from './contours.ts'

/** 12.345 → "12.345", at most three places. */
export const num = (v: number): string => String(Math.round(v * 1000) / 1000 + 0)

/** mm, rounded as in files. */
export const digits = (v: number): number => Math.round(v * 1000) / 1000 || 0

export interface Place {
  readonly x: number
  readonly y: number
}

/** `(12.5, 3)`, mm to 0.001. */
export const placeText = (p: Place): string => `(${digits(p.x)}, ${digits(p.y)})`

export const lineText = (line: number): string => `line ${line}`

export const whereText = (where: Where): string => {
  const layer = where.layers.at(-1)
  return `${lineText(where.line)}${layer === undefined || layer === '' ? '' : `, ${clip(layer, 60)}`}`
}
