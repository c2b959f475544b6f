/** The check list before power on paper: cautions first, then its steps with a box each, to be ticked one after another. */
import type { Problem } from '../../solver/index.ts'
import { type Block, flow, type Tick } from './pdf-flow.ts'
import type { Page } from './pdf-ink.ts'
import type { Paper } from './pdf-paper.ts'
import type { Press } from './pdf-press.ts'
import { called } from './words.ts'
import { checkList as words } from './words-sheets.ts'

/** As the inspection of the layout gives it; whoever asks for the pages hands it over. */
export interface CheckList {
  readonly cautions: readonly string[]
  readonly steps: readonly Tick[]
  /** What the files do not say, so that no step speaks of it. */
  readonly missing: readonly string[]
}

export function checkListPages(press: Press, problem: Problem, list: CheckList, paper: Paper): Page[] {
  const blocks: Block[] = [
    { kind: 'heading', text: words.title },
    { kind: 'text', text: words.how },
    { kind: 'heading', text: words.cautions },
    { kind: 'list', sign: 'dot', lines: list.cautions },
    ...(list.missing.length === 0
      ? []
      : ([
          { kind: 'heading', text: words.missing },
          { kind: 'list', sign: 'dot', lines: list.missing },
        ] as const)),
    { kind: 'heading', text: words.steps },
    { kind: 'ticks', steps: list.steps, signed: words.signed },
  ]
  return flow(press, paper, called.variant(problem.name, problem.variant), words.label, blocks)
}
