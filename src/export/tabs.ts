/**
 * Tabs: short gaps in a cut line, so that a part stays in the sheet until it is broken out. Holes and narrow windows get
 * none: what falls out of them is small, and a tab would spoil them.
 */
import { along, boxOf, type Circle, type Contour, type Line, type Segment, segmentsOf, type Vertex } from './contour.ts'
import { lengthOf } from './near.ts'

export interface Tabs {
  /** Gaps in each contour that is large enough. */
  readonly count: number
  /** Width of the material that stands, mm. */
  readonly width: number
}

/** Common practice, no source: about the thickness of thin sheet wood, broken by hand. */
export const TAB_WIDTH = 1.5
/** A contour narrower than this either way has no tabs, mm (our choice). */
export const TABS_FROM = 15
/** Line between two tabs, in widths of a gap, at least. */
const APART = 4

/**
 * A contour as the lines between its tabs; unchanged where it is too small for any. `kerf` (full width, mm): the beam is
 * round and eats half of it at each end of a line, so the gap is wider than the tab by a kerf.
 */
export function tabbed(contour: Contour, tabs: Tabs, kerf: number): Line[] {
  const box = boxOf(contour)
  if (box.x1 - box.x0 < TABS_FROM || box.y1 - box.y0 < TABS_FROM) return [contour]
  const segments = contour.kind === 'circle' ? [] : segmentsOf(contour.points)
  const lengths = contour.kind === 'circle' ? [2 * Math.PI * contour.r] : segments.map(lengthOf)
  const total = lengths.reduce((a, b) => a + b, 0)
  const gap = tabs.width + kerf
  const count = Math.min(tabs.count, Math.floor(total / (gap * (1 + APART))))
  if (count < 1) return [contour]
  const starts = spots(lengths, total, count, gap)
  return starts.map((from, i) => {
    const to = starts[(i + 1) % count]! + (i + 1 === count ? total : 0)
    const points = contour.kind === 'circle' ? rim(contour, from + gap, to) : stretch(segments, lengths, from + gap, to)
    return { kind: 'open', points }
  })
}

/** Part of a circle, from one length along it to another. */
function rim(c: Circle, from: number, to: number): Vertex[] {
  const [a, b] = [from / c.r, to / c.r]
  const at = (angle: number, bulge: number): Vertex => ({
    x: c.cx + c.r * Math.cos(angle),
    y: c.cy + c.r * Math.sin(angle),
    bulge,
  })
  return [at(a, Math.tan((b - a) / 4)), at(b, 0)]
}

/** Where the gaps start, along the line: evenly spread, moved off the corners where the side has room for that. */
function spots(lengths: readonly number[], total: number, count: number, gap: number): number[] {
  const pitch = total / count
  const found: number[] = []
  let side = 0
  let start = 0
  for (let k = 0; k < count; k++) {
    const middle = (k + 0.5) * pitch
    while (side < lengths.length - 1 && start + lengths[side]! < middle) start += lengths[side++]!
    const length = lengths[side]!
    const [low, high] = [start + gap / 2, start + length - gap * 1.5]
    const wanted = middle - gap / 2
    // A move is at most a gap and a half, and the spots are five gaps apart, so that they never meet.
    found.push(high >= low ? Math.max(low, Math.min(high, wanted)) : wanted)
  }
  return found
}

/** The line from one length along the contour to another, past its seam if need be. */
function stretch(segments: readonly Segment[], lengths: readonly number[], from: number, to: number): Vertex[] {
  const points: Vertex[] = []
  let start = 0
  for (let k = 0; start < to && k < 2 * segments.length; k++) {
    const i = k % segments.length
    const [s, length] = [segments[i]!, lengths[i]!]
    const [low, high] = [Math.max(from, start), Math.min(to, start + length)]
    if (high - low > 1e-9) {
      const [t0, t1] = [(low - start) / length, (high - start) / length]
      points.push({ ...along(s, t0), bulge: s.arc ? Math.tan((s.arc.sweep * (t1 - t0)) / 4) : 0 })
      if (to - high < 1e-9) points.push({ ...along(s, t1), bulge: 0 })
    }
    start += length
  }
  return points
}
