/** Wires to cut, pins, and what is to be prepared: the parts of a report that are done with wire and iron. */
import { calledIn, type Problem, type TerminalKind } from '../../solver/index.ts'
import { need, sized } from '../electric/index.ts'
import type { Report } from '../inspect/index.ts'
import { tenthsUp } from '../model/rounding.ts'
import { words } from '../words/index.ts'
import { type Block, cautions, cutMm, figure, line, lines, mm, row, table } from './report-blocks.ts'

export function wiresPart({ leads, findings }: Report, problem: Problem): Block[] {
  const name = (id: string): string => calledIn(problem, id)
  const t = words.report.wires
  if (!leads) return lines([line(t.noWires)])
  const keep = new Map(leads.keep.map((k) => [k.wire, k]))
  const variants = new Set(leads.keep.flatMap((k) => k.variants.map((v) => v.variant)))
  const short = findings.filter((f) => f.topic === 'length')
  return [
    ...lines(
      short.map((f) => line(f.text, f.items)),
      t.warnings,
    ),
    ...table(
      t.table,
      [t.wire, t.from, t.to, t.straight, t.round, t.cut, t.keep, t.there, t.goesRound],
      leads.routes.map((r) =>
        row(
          [
            r.wire,
            r.from,
            r.to,
            tenthsUp(r.straight),
            tenthsUp(r.length),
            r.there === undefined ? cutMm(r.cut) : need(r.cut, r.there)[0],
            cutMm(keep.get(r.wire)?.keep),
            r.there === undefined ? t.enough : need(r.cut, r.there)[1],
            r.round.map(name).join(', ') || words.report.none,
          ],
          [r.wire],
        ),
      ),
    ),
    ...lines([line(variants.size > 1 ? t.keepAll : t.keepOne)]),
    ...lines([
      ...leads.blocked.map((b) => line(t.blocked(b.wire, b.by.map(name)), [b.wire, ...b.by])),
      ...leads.bundles.map((b) => line(t.bundle(b.wires, mm(b.together), name(b.deck)), b.wires)),
    ]),
  ]
}

const usedAs = ({ as, chosen }: { readonly as: TerminalKind | ''; readonly chosen: boolean }): string => {
  const said = as === '' ? '' : words.footprint.carried[as]
  return chosen ? words.report.pins.chosen(said) : said || words.report.none
}

export function pinsPart({ pins }: Report): Block[] {
  const t = words.report.pins
  if (!pins) return lines([line(t.none)])
  const end = (e: (typeof pins.links)[number]['from']): string => (e.contact ? t.contact(e.of, e.name) : e.name)
  return [
    ...table(
      t.table,
      [t.item, t.pin, t.as, t.net, t.joined],
      pins.table.map((r) =>
        row(
          [
            r.item,
            r.name === r.pin ? r.pin : t.named(r.pin, r.name),
            usedAs(r),
            r.net,
            r.to.join('; ') || words.report.none,
          ],
          [r.item],
        ),
      ),
    ),
    ...table(
      t.plan,
      [t.net, t.with, t.from, t.to, t.length],
      pins.links.map((l) =>
        row([l.net, t.link[l.kind], end(l.from), end(l.to), cutMm(l.length)], [l.from.of, l.to.of]),
      ),
    ),
    ...lines(pins.shared.map((s) => line(t.shared(s.net, s.pins)))),
  ]
}

export function preparePart({ preparation: p }: Report): Block[] {
  const t = words.report.prepare
  const blocks = [
    ...lines(
      p.headers.map((h) => line(t.header(h.count, h.pins, h.why, [...new Set(h.for)]), h.for)),
      t.headers,
    ),
    ...lines(
      p.soldering.map((s) =>
        line(t.solder(s.item, s.face, s.rows.map((r) => r.join(' ')).join(' / '), s.note), [s.item]),
      ),
      t.soldering,
    ),
    ...lines(
      p.leads.map((l) =>
        line(t.lead(l.id, l.gauge === undefined ? undefined : sized(l.gauge), l.contact, l.note), [l.id]),
      ),
      t.leads,
    ),
    ...lines(
      p.relief.map((r) => line(t.exit(r.exit, r.leads, r.note), [r.exit, ...r.leads])),
      t.relief,
    ),
    ...table(
      t.jumpers,
      [t.net, t.from, t.to, t.steps, t.length, t.wire],
      p.jumpers.map((j) =>
        row([
          j.net,
          j.from,
          j.to,
          String(j.steps),
          figure(j.length, 2),
          j.flexible === '' ? t.stiff : t.flexible(j.flexible),
        ]),
      ),
    ),
    ...lines(
      p.tools.map((tool) => line(t.tool(tool.tool, tool.why))),
      t.tools,
    ),
  ]
  if (blocks.length === 0) return lines([line(t.none)])
  return [...cautions(words.report.power.cautions, p.cautions), ...blocks]
}
