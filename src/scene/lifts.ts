/** Deck levels that lift apart: how far each deck and what stands on it is raised, mm; nothing of the layout changes. */
import type { Problem } from '../../solver/index.ts'
import { boxOf } from '../store/outline.ts'

/** By the deck's index; decks of one height stay together. `amount`: 0 as built, 1 so far that a level is seen whole under the next. */
export function liftsOf(problem: Problem, amount: number): number[] {
  const levels = [...new Set(problem.decks.map((d) => d.z))].sort((a, b) => a - b)
  const boxes = problem.decks.map((d) => boxOf(d.outline))
  const step = Math.max(60, 0.6 * Math.max(0, ...boxes.flatMap((b) => [b.w / 1000, b.h / 1000])))
  return problem.decks.map((d) => levels.indexOf(d.z) * amount * step)
}
