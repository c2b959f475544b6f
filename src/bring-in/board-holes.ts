/** Which of a board's holes are for mounting. The others are listed by kind and diameter. */
import type { Box, Pt } from './board-contour.ts'
import type { Findings } from './board-findings.ts'
import { board } from './words-boards.ts'

export interface BoardHole {
  readonly diameter: number
  readonly at: Pt
  /** Undefined where the file does not say. */
  readonly plated: boolean | undefined
  /** IDF's word: PIN, VIA, MTG, TOOL or another. */
  readonly type?: string | undefined
  readonly line: number
  readonly findings: Findings
}

export interface MountChoice {
  readonly least: number
  readonly plated: boolean
  readonly box: Box
}

/** Mounting holes from front-left on: rows of equal y, then x. A hole that stands in two files counts once. */
export function sortHoles(holes: readonly BoardHole[], choice: MountChoice, own: Findings): BoardHole[] {
  const mounts = new Map<string, BoardHole>()
  let silent = 0
  for (const h of holes) {
    const why = reason(h, choice)
    if (why !== '') {
      h.findings.skip(h.line, why)
      continue
    }
    const key = `${Math.round(h.at.x * 100)},${Math.round(h.at.y * 100)}`
    const before = mounts.get(key)
    if (before !== undefined) {
      h.findings.skip(h.line, board.holeTwice)
      if (before.diameter >= h.diameter) continue
    }
    if (h.plated === undefined && before === undefined) silent++
    mounts.set(key, h)
    const { box } = choice
    const beyond = Math.max(box.x0 - h.at.x, h.at.x - box.x1, box.y0 - h.at.y, h.at.y - box.y1)
    if (beyond > 0) {
      const found = board.holeOutside(h.diameter, beyond)
      h.findings.problem(h.line, 'holes', found, board.oneZero)
    }
  }
  if (silent > 0) {
    own.assume(board.platingUnknown(silent, choice.least))
  }
  const row = (h: BoardHole): number => Math.round(h.at.y * 1000)
  const sorted = [...mounts.values()].sort((a, b) => row(a) - row(b) || a.at.x - b.at.x)
  if (sorted.length === 0) own.assume(board.noMount(choice.least))
  return sorted
}

/** Why a hole is not for mounting; empty where it is. A hole that IDF calls MTG is, plated or not. */
function reason(h: BoardHole, { least, plated }: MountChoice): string {
  if (h.type !== undefined && h.type !== 'MTG') return board.otherHole(h.type, h.diameter, h.plated === true)
  if (h.diameter < least - 1e-9) return board.narrowHole(h.diameter, least)
  if (h.type === undefined && h.plated === true && !plated) return board.platedHole(h.diameter)
  return ''
}
