/** Many shapes as one, so that a view of many parts costs few draws; each is given back when it is no longer shown. */
import { useEffect, useMemo } from 'react'
import { BoxGeometry, BufferGeometry, EdgesGeometry, Float32BufferAttribute } from 'three'
import { mergeGeometries } from 'three/examples/jsm/utils/BufferGeometryUtils.js'

interface Disposable {
  readonly dispose: () => void
}

/** What `make` makes, disposed of when it is made anew or no longer used. */
export function useMade<T extends Disposable | readonly Disposable[] | undefined>(
  make: () => T,
  needs: readonly unknown[],
): T {
  // biome-ignore lint/correctness/useExhaustiveDependencies: the caller says what it needs
  const made = useMemo(make, needs)
  useEffect(
    () => () => {
      const all = made === undefined ? [] : Array.isArray(made) ? made : [made]
      for (const one of all as readonly Disposable[]) one.dispose()
    },
    [made],
  )
  return made
}

/** One unit cube. */
export const useCube = (): BoxGeometry => useMade(() => new BoxGeometry(1, 1, 1), [])

/** Undefined of nothing. What went in is given back. */
export function merged(parts: readonly BufferGeometry[]): BufferGeometry | undefined {
  if (parts.length === 0) return undefined
  const one = mergeGeometries([...parts]) ?? undefined
  for (const p of parts) p.dispose()
  return one
}

/** Pairs of points, with a colour for each point (0 to 1) where there are several. */
export function linesOf(points: readonly number[], colours?: readonly number[]): BufferGeometry | undefined {
  if (points.length === 0) return undefined
  const lines = new BufferGeometry()
  lines.setAttribute('position', new Float32BufferAttribute(points, 3))
  if (colours) lines.setAttribute('color', new Float32BufferAttribute(colours, 3))
  return lines
}

export const outlined = (solid: BufferGeometry | undefined): BufferGeometry | undefined =>
  solid && new EdgesGeometry(solid, 30)
