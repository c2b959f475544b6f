/** Offsets and differences of polygons by a library that shares nothing with ours; used by tests alone. */
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import factory, { type MainModule, type PathsD } from 'clipper2-wasm'
import { along, type Contour, segmentsOf } from '../../src/export/contour.ts'

export type Ring = readonly (readonly [number, number])[]

/** Corners of a contour; arcs as so many steps each. */
export function flat(c: Contour, steps = 48): Ring {
  if (c.kind === 'circle') {
    const n = steps * 4
    return Array.from({ length: n }, (_, k): [number, number] => {
      const angle = (2 * Math.PI * k) / n
      return [c.cx + c.r * Math.cos(angle), c.cy + c.r * Math.sin(angle)]
    })
  }
  return segmentsOf(c.points).flatMap((s) =>
    Array.from({ length: s.arc ? steps : 1 }, (_, k): [number, number] => {
      const p = along(s, k / (s.arc ? steps : 1))
      return [p.x, p.y]
    }),
  )
}

export interface Clipper {
  /** Rings moved outwards (inwards when negative), sharp corners mitred up to four times the distance. */
  readonly inflate: (rings: readonly Ring[], by: number) => Ring[]
  /** The band that a round beam of this width takes away along closed lines. */
  readonly swept: (rings: readonly Ring[], width: number) => Ring[]
  /** What is in one and not in the other, mm². */
  readonly differs: (a: readonly Ring[], b: readonly Ring[]) => number
  readonly minus: (a: readonly Ring[], b: readonly Ring[]) => Ring[]
  /** Signed, holes count against. */
  readonly area: (rings: readonly Ring[]) => number
}

export async function clipper(): Promise<Clipper> {
  const folder = dirname(createRequire(import.meta.url).resolve('clipper2-wasm'))
  const wasmBinary = readFileSync(join(folder, '../es/clipper2z.wasm'))
  const m: MainModule = await factory({ wasmBinary })
  const paths = (rings: readonly Ring[]): PathsD => {
    const all = new m.PathsD()
    for (const ring of rings) all.push_back(m.MakePathD(ring.flat() as number[]))
    return all
  }
  const rings = (all: PathsD): Ring[] =>
    Array.from({ length: all.size() }, (_, i) => {
      const path = all.get(i)
      return Array.from({ length: path.size() }, (_, k): [number, number] => [path.get(k).x, path.get(k).y])
    })
  const { NonZero } = m.FillRule
  return {
    inflate: (a, by) => rings(m.InflatePathsD(paths(a), by, m.JoinType.Miter, m.EndType.Polygon, 4, 6, 0)),
    swept: (a, width) => rings(m.InflatePathsD(paths(a), width / 2, m.JoinType.Round, m.EndType.Joined, 2, 6, 0.0002)),
    differs: (a, b) => m.AreaPathsD(m.XorD(paths(a), paths(b), NonZero, 6)),
    minus: (a, b) => rings(m.DifferenceD(paths(a), paths(b), NonZero, 6)),
    area: (a) => m.AreaPathsD(paths(a)),
  }
}
