/** The parts of an inspection's text that are of the whole robot: power, balance, heads, service, and the check list. */
import { lasting, names, STATES, type State, say, sized } from '../electric/index.ts'
import type { Report } from '../inspect/index.ts'
import { fixed } from '../model/rounding.ts'
import { anywhereIn, figures, freeSpans } from '../statics/index.ts'
import { aligned } from './table.ts'

const volts = (v: number): string => fixed(v, 2)
const amps = (v: number): string => fixed(v, 3)
const rows = (head: readonly string[], body: readonly (readonly string[])[]): string[] =>
  aligned([head, ...body].map(([first, ...r]) => [`  ${first}`, ...r]))

const STATE: Readonly<Record<State, string>> = { idle: 'idle', running: 'running', stall: 'every motor stalled' }

export function powerText({ power }: Report): string[] {
  if (!power) return []
  const led = power.supplies.filter((s) => s.states.running.loads.length + s.states.running.leads.length > 0)
  const supplies = led.flatMap((s): string[] => {
    const hours = (['idle', 'running'] as const).flatMap((k) =>
      s.hours[k] === undefined ? [] : [`${lasting(s.hours[k]!)} h ${STATE[k]}`],
    )
    const later = s.later
      ? [
          `  With ${names(s.later.items)} later: ${amps(s.later.amps)} A running${s.later.hours === undefined ? '' : `, ${lasting(s.later.hours)} h`}.`,
        ]
      : []
    const of = (pick: (k: State) => number | undefined, text: (v: number) => string) =>
      STATES.map((k) => {
        const v = pick(k)
        return v === undefined ? '–' : text(v)
      })
    const { running } = s.states
    const head = ['', ...STATES.map((k) => STATE[k])]
    return [
      `  ${s.supply}, ${volts(s.volts)} V with nothing drawn${hours.length > 0 ? `; lasts ${hours.join(', ')}` : ''}`,
      ...later,
      ...rows(head, [
        ['  drawn, A', ...of((k) => s.states[k].amps, amps)],
        ['  at its terminals, V', ...of((k) => s.states[k].volts, volts)],
        ...running.loads.flatMap((l, i) => [
          [`  ${l.name}, A`, ...of((k) => s.states[k].loads[i]?.amps, amps)],
          [`  ${l.name}, V`, ...of((k) => s.states[k].loads[i]?.volts, volts)],
        ]),
        ...running.leads.map((l, i) => [
          `  lead ${l.wire} (${sized(l.awg)}, ${l.length.toFixed(0)} mm), A`,
          ...of((k) => s.states[k].leads[i]?.amps, amps),
        ]),
        ...running.regulators.map((r, i) => [
          `  heat of ${r.name}, W`,
          ...of((k) => s.states[k].regulators[i]?.watts, volts),
        ]),
      ]),
    ]
  })
  return ['Power, estimated:', ...supplies, ...power.cautions.map((c) => `  ! ${c}`)]
}

/** Without those that weigh the same in the same place: no stacks, nothing that comes later. */
function unlike<T extends { readonly gravity: unknown }>(loadings: readonly T[]): T[] {
  return [...new Map(loadings.map((l) => [JSON.stringify(l.gravity), l]).reverse() as [string, T][]).values()].reverse()
}

const forcesOf = ({ tracks: t }: NonNullable<Report['balance']>['level']['loadings'][number]) =>
  figures.forces({ left: t.leftForce, right: t.rightForce })

export function balanceText({ balance }: Report): string[] {
  if (!balance) return []
  const table = ({ loadings, asked }: NonNullable<Report['balance']>['level']) =>
    rows(
      ['loading', 'mass, g', 'centre x, y, z, mm', 'forward', 'back', 'left', 'right', 'left track', 'right track'],
      unlike(loadings).map((l) => {
        const [shares, forces] = [figures.shares(l.tracks, asked.mostTrackShare), forcesOf(l)]
        const tips = (['forward', 'back', 'left', 'right'] as const).map(
          (d) => `${figures.tip(l.tip[d], asked.leastTipAngle)}°`,
        )
        return [
          `${l.stacks} stacks${l.later ? ', later items there' : ''}`,
          say(l.gravity.mass),
          [l.gravity.centre.x, l.gravity.centre.y, l.gravity.centre.z].map((v) => fixed(v, 1)).join(', '),
          ...tips,
          `${shares.left} %, ${forces.left} N`,
          `${shares.right} %, ${forces.right} N`,
        ]
      }),
    )
  const { level, slope } = balance
  const { worstShare: w, asked, reaching } = level
  const out = reaching.length > 0 ? `, with ${names(reaching)} reaching out to the side where it is worst,` : ''
  const folded = reaching.length > 0 ? ` In the table the tracks carry ${names(reaching)} without its reach.` : ''
  return [
    'Balance, standing still (degrees: the slope on which it tips that way):',
    ...table(level),
    `  At worst of all loadings${out} it tips on ${figures.tip(level.worstTip, asked.leastTipAngle)}°, and the ${w.side} track carries ${figures.share(w.share, asked.mostTrackShare)} %.${folded} It tips sooner when it brakes, bumps or turns: leave room.`,
    ...(slope
      ? [
          `  On a slope of ${figures.given(slope.ground.slope)}°:`,
          ...rows(
            ['loading', 'left to the edge, mm', 'left track', 'right track'],
            unlike(slope.loadings).map((l) => [
              `${l.stacks} stacks${l.later ? ', later items there' : ''}`,
              figures.margin(l.margin),
              `${forcesOf(l).left} N`,
              `${forcesOf(l).right} N`,
            ]),
          ),
        ]
      : []),
  ]
}

/** What people call a thing of that id. */
export type Named = (id: string) => string

export function sightsText({ heads, views }: Report, name: Named): string[] {
  const lines = [
    ...heads.map((h) => {
      const { reach, low, high } = figures.sweep(h.swept)
      return `  ${h.item} sweeps ${reach} mm round its pivot, from ${low} to ${high} mm over the ground. Pan free at every tilt: ${freeSpans(h.freePan, 'pan')}; with nothing stacked: ${freeSpans(h.freePanBare, 'pan')}.`
    }),
    ...views.map(
      (v) =>
        `  ${v.item} looks ${figures.given(v.width)}° wide and ${figures.given(v.height)}° high; clear across: ${freeSpans(v.clear, 'across')}.${
          v.blockers.length > 0
            ? ` In view: ${names(v.blockers.map((b) => `${name(b.id)}${b.kind === 'stack' ? "'s stack" : ''} (${figures.share(b.share, 1)} %)`))}.`
            : ''
        }`,
    ),
  ]
  return lines.length > 0 ? ['Heads and views:', ...lines] : []
}

export function serviceText({ service, access }: Report, name: Named): string[] {
  const steps = service.steps.filter((s) => s.all.length + s.turn.length + s.wires.length > 0)
  const table = rows(
    ['part', 'comes off after', 'leads to take off', 'turn first'],
    steps.map((s) => [
      s.kind === 'deck' ? name(s.id) : s.id,
      s.all.map(name).join(', ') || '–',
      s.wires.join(', ') || '–',
      s.turn.map((t) => `${t.head} to ${anywhereIn(t.pan)}`).join('; ') || '–',
    ]),
  )
  const free = service.steps.filter((s) => !steps.includes(s)).map((s) => s.id)
  const WHAT = { cells: 'cells', program: 'program plug', reset: 'reset', switch: 'switch' } as const
  const reach = access.reach.map(
    (r) => `  ${r.item}, ${WHAT[r.access]}: ${r.reachable ? `in reach from ${r.from}` : 'out of reach'}.`,
  )
  const sight = access.sight.map((s) => `  ${s.item}, light ${s.light}: ${s.seen ? 'in sight' : 'out of sight'}.`)
  return [
    'Service, every supply disconnected first:',
    ...(steps.length > 0 ? table : []),
    ...(free.length > 0 ? [`  ${free.length === 1 ? 'Comes' : 'Come'} straight off: ${names(free.map(name))}.`] : []),
    ...(reach.length + sight.length > 0 ? ['  With nothing taken off:', ...reach, ...sight] : []),
  ]
}

export function checkList({ beforePower }: Report): string[] {
  const { cautions, steps } = beforePower
  return [
    'Before power is on:',
    ...cautions.flatMap((c) => wrapped('  ! ', c)),
    ...steps.flatMap((s, i) => {
      const why = s.why === undefined ? '' : ` (${s.why.replace(/\.$/, '')}.)`
      return wrapped(`  [ ] ${`${i + 1}.`.padEnd(4)}`, s.text + why)
    }),
  ]
}

/** Columns of a line that is printed and taken to the bench. */
const WIDE = 100

/** A text behind its mark, in lines that start where the first one's words do. */
function wrapped(mark: string, text: string): string[] {
  const lines: string[] = []
  let line = mark
  for (const word of text.split(' ')) {
    if (line.length > mark.length && line.length + word.length >= WIDE) {
      lines.push(line.trimEnd())
      line = ' '.repeat(mark.length)
    }
    line += `${word} `
  }
  return [...lines, line.trimEnd()]
}
