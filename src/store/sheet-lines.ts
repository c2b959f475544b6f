/** The sentences of the findings sheet: rules at once, the inspection as far as it has come; what stops the job first. */
import type { Finding } from '../inspect/index.ts'
import { words } from '../words/index.ts'
import type { ReportState } from './report.ts'
import { asSpelt, inMm, plainIn } from './sentences.ts'
import type { View } from './view.ts'

export interface SheetLine {
  readonly text: string
  /** Ids of items, wires, nets, exits, zones and decks. */
  readonly items: readonly string[]
}

export interface SheetLines {
  /** Why nothing fits as asked. */
  readonly conflict: readonly SheetLine[]
  readonly stops: readonly SheetLine[]
  readonly worthKnowing: readonly SheetLine[]
  /** What the project does not say. */
  readonly missing: readonly string[]
}

/** The sentence of a broken rule, with how much is short where the text does not say it. */
const ruleText = (problem: View['problem'], text: string, by: number): string => {
  const sentence = asSpelt(problem, text)
  return by > 0 && !/\d\s*mm\b/.test(text) ? words.sheet.missing(sentence, inMm(by)) : sentence
}

export function sheetLines(view: View, { report }: Pick<ReportState, 'report'>): SheetLines {
  const conflict = view.conflict
  const plain = plainIn([view.problem])
  const said = new Set(conflict.map((m) => m.text))
  const add = (list: readonly SheetLine[]): SheetLine[] =>
    list.filter(({ text }) => {
      if (said.has(text)) return false
      said.add(text)
      return true
    })
  // Rules are known of the layout as it hangs in the hand; what the report says of them is a step behind.
  const rules = view.findings.map((f) => ({ text: ruleText(view.problem, f.text, f.by), items: f.items }))
  const rest = (weight: Finding['weight']): SheetLine[] =>
    (report?.findings ?? [])
      .filter((f) => f.weight === weight && f.topic !== 'layout')
      .map((f) => ({ text: plain(f.text), items: f.items }))
  return {
    conflict,
    stops: add([...rules, ...rest('stops')]),
    worthKnowing: add(rest('worth-knowing')),
    missing: (report?.missing ?? []).map((m) => plain(m.text)),
  }
}
