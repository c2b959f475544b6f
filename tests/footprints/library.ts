/** The library as plain JSON, read without the loader, so that these tests judge the files and not the code that reads them. */
import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

export interface Pin {
  readonly id: string
  readonly at: readonly [number, number]
}
export interface Block {
  readonly at: readonly [number, number]
  readonly columns: number
  readonly rows: number
  readonly strip: 'column' | 'row'
}
export interface Hole extends Pin {
  readonly diameter: number
  readonly land?: number
  readonly screw?: string
}
export interface Part {
  readonly format: string
  readonly version: number
  readonly id: string
  readonly name: string
  readonly source: string
  readonly kind: string
  readonly body: { readonly width: number; readonly depth: number; readonly height: number }
  readonly mass: number
  readonly mount: {
    readonly kind: string
    readonly holes?: readonly Hole[]
    readonly slots?: readonly (readonly [number, number, number, number])[]
    readonly cutout?: readonly [number, number, number, number]
    readonly below?: number
  }
  readonly above?: number | 'open'
  readonly corridors?: readonly {
    readonly id: string
    readonly shape: { readonly rect?: readonly [number, number, number, number] }
    readonly z: readonly [number, number]
    readonly why: string
  }[]
  readonly terminals?: readonly (Pin & { readonly name?: string })[]
  readonly breadboard?: { readonly pitch: number; readonly blocks: readonly Block[] }
  readonly plug?: { readonly pins: readonly Pin[] }
  readonly head?: {
    readonly pivot: readonly [number, number]
    readonly pan: readonly [number, number]
    readonly reach: number
    readonly tail: number
    readonly z: readonly [number, number]
  }
}

const root = fileURLToPath(new URL('../../footprints/', import.meta.url))

/** Every JSON file of the library with its name without ending. */
export const readLibrary = (): { readonly file: string; readonly part: Part }[] =>
  ['boards', 'breadboards', 'power', 'motion', 'sensing'].flatMap((folder) =>
    readdirSync(root + folder)
      .filter((f) => f.endsWith('.json'))
      .map((f) => ({ file: f.slice(0, -5), part: JSON.parse(readFileSync(`${root}${folder}/${f}`, 'utf8')) as Part })),
  )

/** The centre-to-centre distance of two points, mm. */
export const distance = (a: readonly [number, number], b: readonly [number, number]): number =>
  Math.hypot(a[0] - b[0], a[1] - b[1])

/** Whole micrometres, as the contract rounds. */
export const microns = (mm: number): number => Math.round(mm * 1000)

/** Every tie point of a breadboard in whole micrometres, with the name of its strip (block and column, or block and row). */
export const tiePoints = (part: Part): { readonly x: number; readonly y: number; readonly strip: string }[] =>
  (part.breadboard?.blocks ?? []).flatMap((b, n) =>
    Array.from({ length: b.columns * b.rows }, (_, k) => {
      const i = k % b.columns
      const j = Math.floor(k / b.columns)
      const pitch = microns(part.breadboard!.pitch)
      const strip = `${n}:${b.strip === 'column' ? i : j}`
      return { x: microns(b.at[0]) + i * pitch, y: microns(b.at[1]) + j * pitch, strip }
    }),
  )
