/** The assembly sheet: cautions first, the plan with numbers, what each number is, the order of work, hardware and wires. */
import type { Mount, Placement, Problem } from '../../solver/index.ts'
import { assemblyCautions } from './assembly-cautions.ts'
import { called, type Numbered, numberItems, orderOfWork, upwards } from './assembly-order.ts'
import { deckName } from './notes.ts'
import { type Block, flow } from './pdf-flow.ts'
import type { Page } from './pdf-ink.ts'
import { type Paper, windowOf } from './pdf-paper.ts'
import { planOf } from './pdf-plan.ts'
import type { Press } from './pdf-press.ts'
import { capital } from './pdf-words.ts'
import { type HardwareRow, hardwareList, headerPins, type OtherLayout, type WireRow, wireCutList } from './tables.ts'

/** `others`: layouts of other variants, for the longest cut of each wire; `asMade`: the plates exist. */
export function assemblyPages(
  press: Press,
  problem: Problem,
  placements: readonly Placement[],
  paper: Paper,
  asMade: boolean,
  others: readonly OtherLayout[],
): Page[] {
  const items = numberItems(problem, placements)
  const wires = wireCutList(problem, placements, others)
  const numbers = new Map(
    problem.wires.flatMap((w, i) => {
      const k = wires.findIndex((row) => row.id === w.id && row.length !== null)
      return k < 0 ? [] : [[i, k + 1] as const]
    }),
  )
  const several = others.length > 0
  const room = windowOf(paper)
  const [wide, high] = [room.x1 - room.x0, (room.y1 - room.y0) * 0.6]
  const hardware = hardwareList(problem, placements)
  const pins = headerPins(problem, placements)
  const blocks: Block[] = [
    { kind: 'heading', text: 'Assembly: cautions first' },
    ...assemblyCautions.flatMap((g): Block[] => [
      { kind: 'text', text: `${g.work}:` },
      { kind: 'list', sign: 'dot', lines: g.cautions },
    ]),
    { kind: 'new page' },
    ...upwards(problem).flatMap((deck): Block[] => {
      const plan = planOf(press, problem, items, numbers, deck, wide, high)
      return [
        {
          kind: 'heading',
          text: `${capital(deckName(problem.decks[deck]!))}, scale 1 : ${Math.round(plan.scale * 100) / 100}`,
        },
        {
          kind: 'text',
          text: 'Front of the robot up. Arrow: the side of the part that is upper on its paper dummy. Dot: first pin. w1, w2, …: wires.',
        },
        { kind: 'picture', height: plan.height, draw: plan.draw },
      ]
    }),
    { kind: 'heading', text: 'Items' },
    {
      kind: 'table',
      none: 'No item is placed.',
      columns: [
        { head: 'No.', share: 6 },
        { head: 'item', share: 16 },
        { head: 'part', share: 34 },
        { head: 'deck', share: 11 },
        { head: 'x', share: 8 },
        { head: 'y', share: 8 },
        { head: 'turn', share: 16 },
        { head: 'mounted', share: 18 },
      ],
      rows: items.map((n) => itemCells(problem, n, items)),
    },
    { kind: 'text', text: 'x, y: lower-left corner of the turned part, mm, in the frame of the project.' },
    { kind: 'heading', text: 'Order of work' },
    { kind: 'list', sign: 'number', lines: orderOfWork(problem, placements, asMade) },
    { kind: 'heading', text: 'Hardware' },
    {
      kind: 'table',
      none: 'None.',
      columns: [
        { head: 'amount', share: 12 },
        { head: 'what', share: 34 },
        { head: 'standard', share: 13 },
        { head: 'for', share: 28 },
        { head: 'note', share: 40 },
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
              { head: 'header pins to snap off', share: 30 },
              { head: 'strips', share: 12 },
              { head: 'for', share: 50 },
              { head: 'note', share: 35 },
            ],
            rows: pins.map((p) => [`${p.pins} pins`, `${p.count}`, p.items.join(', '), p.note]),
          } as const,
        ]),
    { kind: 'heading', text: 'Wires, lengths in mm' },
    {
      kind: 'table',
      none: 'No wire.',
      columns: [
        { head: 'No.', share: 7 },
        { head: 'wire', share: 16 },
        { head: 'from', share: 24 },
        { head: 'to', share: 24 },
        { head: 'gauge', share: 11 },
        { head: 'colour', share: 10 },
        { head: 'leads', share: 8 },
        { head: 'run', share: 11 },
        { head: 'cut', share: 11 },
        ...(several ? [{ head: 'longest', share: 15 }] : []),
        { head: 'note', share: 20 },
      ],
      rows: wires.map((r, i) => wireCells(r, i, several)),
    },
    {
      kind: 'text',
      text: `Cut: the run with its service loop; add what stripping and crimping take.${several ? ' Longest: over the variants that were worked out, so that one set of wires serves them all.' : ''}`,
    },
  ]
  return flow(press, paper, `${problem.name}, variant ${problem.variant}`, 'assembly', blocks)
}

const MOUNTED: Readonly<Record<Mount['kind'], string>> = {
  screw: 'screwed',
  adhesive: 'stuck down',
  strap: 'strapped',
  'drop-in': 'dropped in',
  'plug-in': 'plugged in',
}

const TURNS = ['0', '¼ anticlockwise', '½', '¼ clockwise'] as const

function itemCells(problem: Problem, n: Numbered, items: readonly Numbered[]): string[] {
  const { placement: p, item } = n
  const host = items.find((other) => other.placement.item === p.host)
  const mounted = MOUNTED[item.footprint.mount.kind]
  return [
    n.number === undefined ? '' : `${n.number}`,
    item.later ? `${item.id} (later)` : item.id,
    item.footprint.name,
    problem.decks[p.deck]!.id,
    number(p.at.x / 1000),
    number(p.at.y / 1000),
    TURNS[p.turn],
    host && item.footprint.mount.kind === 'plug-in' ? `${mounted}, ${called(host)}` : mounted,
  ]
}

const hardwareCells = (r: HardwareRow): string[] => [
  r.unit === 'pieces' ? `${number(r.amount)} ×` : `${number(r.amount)} ${r.unit}`,
  r.what,
  r.standard,
  r.items.map((i) => i.item).join(', '),
  r.note,
]

const wireCells = (r: WireRow, i: number, several: boolean): string[] => [
  r.length === null ? '' : `w${i + 1}`,
  r.id,
  r.from,
  r.to,
  typeof r.gauge === 'number' ? `AWG ${r.gauge}` : r.gauge,
  r.colour,
  `${r.conductors}`,
  r.length === null ? '' : number(r.length),
  r.cut === null ? '' : number(r.cut),
  ...(several ? [`${number(r.longest)} (${r.longestIn})`] : []),
  r.note,
]

const number = (value: number): string => String(Math.round(value * 1000) / 1000 || 0)
