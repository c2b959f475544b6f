/** How long to cut each wire so that it serves every variant, for whoever cuts: laid round what is in its way, never straight through it. */
import type { LaidLead } from '../model/index.ts'
import { tenthsUp } from '../model/rounding.ts'
import { type Answer, list } from './answers.ts'

export interface CutRow {
  readonly wire: string
  /** The longest cut over all variants, Um; missing where none has a way for it. */
  readonly cut?: number
  /** Not to be cut shorter, Um, so that it still reaches where an end may move later; missing where that is not more than the cut. */
  readonly keep?: { readonly least: number; readonly item: string; readonly to: string }
  /** In which variant it cannot be laid or does not reach; none where the cut serves all. */
  readonly wrong: readonly string[]
}

/** A row a wire, in the order in which the variants have them. */
export function cutRows(answers: readonly Answer[], laid: (answer: Answer) => readonly LaidLead[]): CutRow[] {
  const leads = answers.flatMap((answer) =>
    laid(answer).map((lead) => ({ wire: answer.problem.wires[lead.wire]!.id, name: answer.name, lead })),
  )
  return [...new Set(leads.map((l) => l.wire))].map((wire) => {
    const mine = leads.filter((l) => l.wire === wire)
    const cuts = mine.flatMap((l) => l.lead.way?.cut ?? [])
    const cut = Math.max(0, ...cuts)
    const keep = mine
      .flatMap(({ lead }) => lead.keep ?? [])
      .reduce<CutRow['keep']>((k, other) => (other.least > (k?.least ?? cut) ? other : k), undefined)
    const wrong = mine.flatMap(({ name, lead }) => {
      const text = wrongWith(lead)
      return text === undefined ? [] : [answers.length > 1 ? `${name}: ${text}` : text]
    })
    return { wire, ...(cuts.length > 0 ? { cut } : {}), ...(keep ? { keep } : {}), wrong }
  })
}

const tenths = (um: number): string => `${tenthsUp(um / 1000)} mm`

/** The heading and the cells; `many`: of several variants. */
export function cutTable(rows: readonly CutRow[], many: boolean): { heading: string; cells: string[][] } {
  const serve = many && rows.every((r) => r.wrong.length === 0) ? ', and they serve every variant' : ''
  return {
    heading: `Cut the wires to these lengths, laid round what is in their way${serve}:`,
    cells: rows.map((r) => [
      `  ${r.wire}`,
      r.cut === undefined ? '–' : tenths(r.cut),
      [...r.wrong, ...(r.keep ? [keepSaid(r.keep)] : [])].join('; '),
    ]),
  }
}

const keepSaid = ({ least, item, to }: NonNullable<CutRow['keep']>): string =>
  `keep at least ${tenths(least)}, enough also for ${item} on ${to}`

function wrongWith({ way, there, by }: LaidLead): string | undefined {
  if (!way) {
    return by.length === 0
      ? 'no pass leads from deck to deck; do not cut it yet'
      : `no way is open on the deck, ${list(by)} shut it in; do not cut it yet, make room or measure it with a thread`
  }
  return there === undefined ? undefined : `needs ${tenths(way.cut)}, there are ${there / 1000} mm: it does not reach`
}
