/** The assembly sheet: cautions first, the plan with numbers, what each number is, the order of work, hardware and wires. */
import { deckCalled, type Placement, type Problem } from '../../solver/index.ts'
import type { LaidLead } from '../model/index.ts'
import { assemblyCautions } from './assembly-cautions.ts'
import { called, type Numbered, numberItems, orderOfWork, upwards } from './assembly-order.ts'
import { type Block, flow } from './pdf-flow.ts'
import type { Page } from './pdf-ink.ts'
import { type Paper, windowOf } from './pdf-paper.ts'
import { planOf } from './pdf-plan.ts'
import type { Press } from './pdf-press.ts'
import { type HardwareRow, hardwareList, headerPins, type OtherLayout, type WireRow, wireCutList } from './tables.ts'
import { called as names, number } from './words.ts'
import { assembly as words } from './words-sheets.ts'
import { headers } from './words-tables.ts'

/** `others`: layouts of other variants, for the longest cut of each wire; `laid`: how leads lie; `asMade`: the plates exist. */
export function assemblyPages(
  press: Press,
  problem: Problem,
  placements: readonly Placement[],
  paper: Paper,
  asMade: boolean,
  others: readonly OtherLayout[],
  laid: readonly LaidLead[] | undefined,
): Page[] {
  const items = numberItems(problem, placements)
  const wires = wireCutList(problem, placements, others, laid)
  const numbers = new Map(
    problem.wires.flatMap((w, i) => {
      const k = wires.findIndex((row) => row.id === w.id && row.here)
      return k < 0 ? [] : [[i, k + 1] as const]
    }),
  )
  const several = others.length > 0
  const known = laid !== undefined && others.every((o) => o.laid !== undefined)
  const room = windowOf(paper)
  const [wide, high] = [room.x1 - room.x0, (room.y1 - room.y0) * 0.6]
  const hardware = hardwareList(problem, placements)
  const pins = headerPins(problem, placements)
  const blocks: Block[] = [
    { kind: 'heading', text: words.cautions },
    ...assemblyCautions.flatMap((g): Block[] => [
      { kind: 'text', text: words.work(g.work) },
      { kind: 'list', sign: 'dot', lines: g.cautions },
    ]),
    { kind: 'new page' },
    ...upwards(problem).flatMap((deck): Block[] => {
      const plan = planOf(press, problem, items, numbers, laid, deck, wide, high)
      return [
        {
          kind: 'heading',
          text: words.plan(deckCalled(problem.decks[deck]!), plan.scale),
        },
        {
          kind: 'text',
          text: words.planNote,
        },
        { kind: 'picture', height: plan.height, draw: plan.draw },
      ]
    }),
    { kind: 'heading', text: words.items },
    { kind: 'text', text: words.itemsNote },
    {
      kind: 'table',
      none: words.noItem,
      columns: [
        { head: words.itemHeads.number, share: 6 },
        { head: words.itemHeads.item, share: 16 },
        { head: words.itemHeads.part, share: 34 },
        { head: words.itemHeads.deck, share: 11 },
        { head: words.itemHeads.x, share: 8 },
        { head: words.itemHeads.y, share: 8 },
        { head: words.itemHeads.turn, share: 16 },
        { head: words.itemHeads.mounted, share: 18 },
      ],
      rows: items.map((n) => itemCells(problem, n, items)),
    },
    { kind: 'heading', text: words.order },
    { kind: 'list', sign: 'number', lines: orderOfWork(problem, placements, asMade, laid) },
    { kind: 'heading', text: words.hardware },
    {
      kind: 'table',
      none: words.noHardware,
      columns: [
        { head: words.hardwareHeads.amount, share: 12 },
        { head: words.hardwareHeads.what, share: 34 },
        { head: words.hardwareHeads.standard, share: 13 },
        { head: words.hardwareHeads.for, share: 28 },
        { head: words.hardwareHeads.note, share: 40 },
      ],
      rows: hardware.map(hardwareCells),
    },
    ...(pins.length === 0
      ? []
      : [
          {
            kind: 'table',
            none: '',
            columns: [
              { head: words.pinHeads.pins, share: 30 },
              { head: words.pinHeads.strips, share: 12 },
              { head: words.pinHeads.for, share: 50 },
              { head: words.pinHeads.note, share: 35 },
            ],
            rows: pins.map((p) => [words.pins(p.pins), `${p.count}`, headers.items(p.items), p.note]),
          } as const,
        ]),
    { kind: 'heading', text: words.wires },
    // Before the table, or it may be alone on the last page.
    {
      kind: 'text',
      text: words.wiresNote(several, known),
    },
    {
      kind: 'table',
      none: words.noWire,
      columns: [
        { head: words.wireHeads.number, share: 7 },
        { head: words.wireHeads.wire, share: 13 },
        { head: words.wireHeads.from, share: 21 },
        { head: words.wireHeads.to, share: 21 },
        { head: words.wireHeads.gauge, share: 10 },
        { head: words.wireHeads.colour, share: 10 },
        { head: words.wireHeads.leads, share: 8 },
        { head: words.wireHeads.run, share: 11 },
        { head: words.wireHeads.cut, share: 11 },
        ...(several ? [{ head: words.wireHeads.longest, share: 15 }] : []),
        ...(known ? [{ head: words.wireHeads.keep, share: 11 }] : []),
        { head: words.wireHeads.note, share: 36 },
      ],
      rows: wires.map((r, i) => wireCells(r, i, several, known)),
    },
  ]
  return flow(press, paper, names.variant(problem.name, problem.variant), words.label, blocks)
}

function itemCells(problem: Problem, n: Numbered, items: readonly Numbered[]): string[] {
  const { placement: p, item } = n
  const host = items.find((other) => other.placement.item === p.host)
  const mounted = words.mounted[item.footprint.mount.kind]
  return [
    n.number === undefined ? '' : `${n.number}`,
    item.later ? names.later(item.id) : item.id,
    item.footprint.name,
    problem.decks[p.deck]!.name || problem.decks[p.deck]!.id,
    number(p.at.x / 1000),
    number(p.at.y / 1000),
    words.turns[p.turn],
    host && item.footprint.mount.kind === 'plug-in' ? words.pluggedInto(mounted, called(host)) : mounted,
  ]
}

const hardwareCells = (r: HardwareRow): string[] => [
  r.unit === 'pieces' ? `${number(r.amount)} ×` : `${number(r.amount)} ${r.unit}`,
  r.what,
  r.standard,
  r.items.map((i) => i.item).join(', '),
  r.note,
]

const wireCells = (r: WireRow, i: number, several: boolean, known: boolean): string[] => [
  r.here ? `w${i + 1}` : '',
  r.id,
  r.from,
  r.to,
  typeof r.gauge === 'number' ? `AWG ${r.gauge}` : r.gauge,
  r.colour,
  `${r.conductors}`,
  r.length === null ? '' : number(r.length),
  r.cut === null ? '' : number(r.cut),
  ...(several ? [r.longest === null ? '' : `${number(r.longest)} (${r.longestIn})`] : []),
  ...(known ? [r.keep === null ? '' : number(r.keep)] : []),
  r.note,
]
