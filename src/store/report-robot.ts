/** Power, balance, head, service and first power: the parts of a report that are of the whole robot. */
import { calledIn, type Problem } from '../../solver/index.ts'
import { lasting, STATES, type State, sized } from '../electric/index.ts'
import type { Report } from '../inspect/index.ts'
import { fixed, inward } from '../model/rounding.ts'
import { figures } from '../statics/index.ts'
import { words } from '../words/index.ts'
import type { Downhill } from './layers.ts'
import { type Block, cautions, figure, line, lines, row, table } from './report-blocks.ts'
import { plainIn } from './sentences.ts'

export function powerPart({ power }: Report): Block[] {
  const t = words.report.power
  if (!power) return lines([line(t.none)])
  return [
    ...cautions(t.cautions, power.cautions),
    ...lines([line(t.estimated)]),
    ...power.supplies.flatMap((s): Block[] => {
      const lasts = (['idle', 'running'] as const).flatMap((k) =>
        s.hours[k] === undefined ? [] : [t.hours(lasting(s.hours[k]), k)],
      )
      const of = (pick: (k: State) => number | undefined, places: number): string[] =>
        STATES.map((k) => {
          const v = pick(k)
          return v === undefined ? words.report.none : fixed(v, places)
        })
      const { running } = s.states
      const later = s.later
      return [
        ...lines([
          line(t.supply(s.supply, figure(s.volts, 2), lasts), [s.supply]),
          ...(later
            ? [
                line(
                  t.later(
                    later.items,
                    fixed(later.amps, 3),
                    later.hours === undefined ? undefined : lasting(later.hours),
                  ),
                  later.items,
                ),
              ]
            : []),
        ]),
        ...table(
          t.table(s.supply),
          [t.figure, ...STATES.map((k) => t.state[k])],
          [
            row([t.drawn, ...of((k) => s.states[k].amps, 3)], [s.supply]),
            row([t.terminals, ...of((k) => s.states[k].volts, 2)], [s.supply]),
            ...running.loads.flatMap((l, i) => [
              row([t.loadAmps(l.name), ...of((k) => s.states[k].loads[i]?.amps, 3)], [l.name]),
              row([t.loadVolts(l.name), ...of((k) => s.states[k].loads[i]?.volts, 2)], [l.name]),
            ]),
            ...running.leads.map((l, i) =>
              row(
                [t.lead(l.wire, sized(l.awg), l.length.toFixed(0)), ...of((k) => s.states[k].leads[i]?.amps, 3)],
                [l.wire],
              ),
            ),
            ...running.regulators.map((r, i) =>
              row([t.heat(r.name), ...of((k) => s.states[k].regulators[i]?.watts, 2)], [r.name]),
            ),
          ],
        ),
      ]
    }),
  ]
}

type Loadings = NonNullable<Report['balance']>['level']['loadings']

/** Without those that weigh the same in the same place: no stacks, nothing that comes later. */
const unlike = (all: Loadings): Loadings =>
  all.filter((l, i) => all.findIndex((o) => JSON.stringify(o.gravity) === JSON.stringify(l.gravity)) === i)

/** `slope`: the same on a slope of so many degrees, with what lies downhill. */
export function balancePart(
  { balance }: Report,
  slope?: { readonly degrees: number; readonly towards: Downhill; readonly loadings: Loadings } | undefined,
): Block[] {
  const t = words.report.balance
  if (!balance) return lines([line(t.none)])
  const { level } = balance
  const worst = level.worstShare
  const { leastTipAngle, mostTrackShare } = level.asked
  const deg = (v: number): string => `${figures.tip(v, leastTipAngle)}°`
  const tracks = ({ tracks: of }: Loadings[number], most?: number): string[] => {
    const [shares, forces] = [figures.shares(of, most), figures.forces({ left: of.leftForce, right: of.rightForce })]
    return [t.track(shares.left, forces.left), t.track(shares.right, forces.right)]
  }
  return [
    ...lines([
      line(
        t.worst(
          figures.tip(level.worstTip, leastTipAngle),
          worst.side,
          figures.share(worst.share, mostTrackShare),
          level.reaching,
        ),
      ),
      line(t.what),
    ]),
    ...table(
      t.table,
      [t.loading, t.mass, t.centre, t.forward, t.back, t.left, t.right, t.leftTrack, t.rightTrack],
      unlike(level.loadings).map((l) =>
        row([
          t.stacks(l.stacks, l.later),
          figure(l.gravity.mass),
          [l.gravity.centre.x, l.gravity.centre.y, l.gravity.centre.z].map((v) => fixed(v, 1)).join(', '),
          deg(l.tip.forward),
          deg(l.tip.back),
          deg(l.tip.left),
          deg(l.tip.right),
          ...tracks(l, mostTrackShare),
        ]),
      ),
    ),
    ...(slope && slope.degrees !== 0
      ? table(
          t.slopeTable(figures.given(slope.degrees), slope.towards),
          [t.loading, t.margin, t.leftTrack, t.rightTrack],
          unlike(slope.loadings).map((l) => row([t.stacks(l.stacks, l.later), figures.margin(l.margin), ...tracks(l)])),
        )
      : []),
  ]
}

type Span = readonly [number, number]
type Said = (degrees: string, past: -1 | 0 | 1) => string

function angle(v: number, said: Said, places = 1): string {
  const text = figure(Math.abs(v), places)
  return said(text, text === '0' ? 0 : v > 0 ? 1 : -1)
}

/** What is free: no more of it may be said than there is. */
const spansSaid = (list: readonly Span[], said: Said): string[] =>
  list.map(inward).map(([a, b]) => words.report.head.from(angle(a, said, 4), angle(b, said, 4)))
const spansBy = (list: readonly Span[], said: Said): string =>
  list.length === 0 ? words.report.head.nowhere : words.report.names(spansSaid(list, said))

/** Pan angles count to the left, those across a view to the right, tilts upwards. */
const panSpans = (list: readonly Span[]): string => spansBy(list, words.report.head.pan)
const acrossSpans = (list: readonly Span[]): string =>
  spansBy(list, (degrees, past) => words.report.head.pan(degrees, past === 0 ? 0 : past > 0 ? -1 : 1))
export const tiltSpans = (list: readonly Span[]): string => spansBy(list, words.report.head.tiltOf)

const tiltSpan = (from: number, to: number): string => {
  const { from: span, tiltOf } = words.report.head
  return from === to ? angle(from, tiltOf) : span(angle(from, tiltOf), angle(to, tiltOf))
}

/** Tilts next to each other with the same free range in one row. */
function byTilt(tilts: Report['heads'][number]['byTilt']): { from: number; to: number; free: string }[] {
  const rows: { from: number; to: number; free: string }[] = []
  for (const { tilt, free } of tilts) {
    const text = panSpans(free)
    const last = rows.at(-1)
    if (last?.free === text) last.to = tilt
    else rows.push({ from: tilt, to: tilt, free: text })
  }
  return rows
}

export function headPart({ heads, views }: Report, problem: Problem): Block[] {
  const t = words.report.head
  if (heads.length + views.length === 0) return lines([line(t.none)])
  return [
    ...heads.flatMap((h) => {
      const { reach, low, high } = figures.sweep(h.swept)
      return [
        ...lines([
          line(t.sweeps(h.item, reach, low, high), [h.item]),
          line(t.freePan(panSpans(h.freePan)), [h.item]),
          line(t.freeBare(panSpans(h.freePanBare)), [h.item]),
        ]),
        ...table(
          t.byTilt(h.item),
          [t.tilt, t.free],
          byTilt(h.byTilt).map((b) => row([tiltSpan(b.from, b.to), b.free], [h.item])),
        ),
      ]
    }),
    ...lines(
      views.flatMap((v) => [
        line(t.view(v.item, figures.given(v.width), figures.given(v.height), acrossSpans(v.clear)), [v.item]),
        ...(v.blockers.length > 0
          ? [
              line(
                t.inView(
                  v.blockers.map((b) =>
                    t.blocker(
                      b.kind === 'stack' ? t.stackOf(b.id) : calledIn(problem, b.id),
                      figures.share(b.share, 1),
                    ),
                  ),
                ),
                v.blockers.map((b) => b.id),
              ),
            ]
          : []),
      ]),
    ),
  ]
}

export function servicePart({ service, access }: Report, problem: Problem): Block[] {
  const t = words.report.service
  const steps = service.steps.filter((s) => s.all.length + s.turn.length + s.wires.length > 0)
  const free = service.steps.filter((s) => !steps.includes(s)).map((s) => s.id)
  const name = (id: string): string => calledIn(problem, id)
  const { none } = words.report
  return [
    ...lines([line(t.what)]),
    ...lines(service.cycles.map((ids) => line(t.knots(ids.map(name)), ids))),
    ...table(
      t.table,
      [t.item, t.after, t.leads, t.turn],
      steps.map((s) =>
        row(
          [
            s.kind === 'deck' ? name(s.id) : s.id,
            s.all.map(name).join(', ') || none,
            s.wires.join(', ') || none,
            s.turn.map((h) => t.turned(h.head, spansSaid(h.pan, words.report.head.pan))).join('; ') || none,
          ],
          [s.id, ...s.all],
        ),
      ),
    ),
    ...(free.length > 0 ? lines([line(t.straight(free.map(name)), free)]) : []),
    ...lines(
      [
        ...access.reach.map((r) =>
          line(t.reachable(r.item, r.access, r.reachable ? r.from : undefined), [r.item, ...r.by]),
        ),
        ...access.sight.map((s) => line(t.sight(s.item, s.light, s.seen), [s.item, ...s.by, ...s.stacked])),
      ],
      t.reach,
    ),
  ]
}

export interface CheckStep {
  readonly text: string
  readonly items: readonly string[]
}

/** By its text each is ticked, so that it is made plain here already. */
export function checkSteps({ beforePower }: Report, problem: Problem): CheckStep[] {
  const plain = plainIn([problem])
  return beforePower.steps.map(({ text, why, items }) =>
    line(plain(why === undefined ? text : words.report.first.why(text, why.replace(/\.$/, ''))), items),
  )
}

/** Cautions first. `done`: what of the steps' texts is ticked. */
export function firstPart(report: Report, problem: Problem, done: ReadonlySet<string> = new Set()): Block[] {
  const t = words.report.first
  return [
    ...cautions(t.cautions, report.beforePower.cautions),
    ...lines(
      checkSteps(report, problem).map((s, i) => ({ ...s, text: `${t.box(done.has(s.text))} ${i + 1}. ${s.text}` })),
      t.steps,
    ),
  ]
}
