/** The report of an inspection for people: findings first, then what was worked out, the check list last. */
import { calledIn, type Problem } from '../../solver/index.ts'
import { names, need, say, sized } from '../electric/index.ts'
import type { Report } from '../inspect/index.ts'
import { fixed, tenthsUp } from '../model/rounding.ts'
import { balanceText, checkList, type Named, powerText, serviceText, sightsText } from './inspect-text-robot.ts'
import { aligned } from './table.ts'

export function reportText(report: Report, problem: Problem): string {
  const { findings, missing } = report
  const of = (weight: string) => findings.filter((f) => f.weight === weight).map((f) => `  - ${f.text}`)
  const name = (id: string): string => calledIn(problem, id)
  const [stops, rest] = [of('stops'), of('worth-knowing')]
  const sections = [
    [`${report.project}, variant ${report.variant}`],
    stops.length > 0 ? [`What stops the job (${stops.length}):`, ...stops] : ['Nothing was found that stops the job.'],
    rest.length > 0 ? [`Worth knowing (${rest.length}):`, ...rest] : [],
    missing.length > 0
      ? ['Left out, for the files do not say enough:', ...missing.map((m) => `  - ${m.text} (${m.field})`)]
      : [],
    leadsText(report, name),
    pinsText(report),
    preparationText(report),
    powerText(report),
    balanceText(report),
    sightsText(report, name),
    serviceText(report, name),
    checkList(report),
  ]
  return `${sections
    .filter((s) => s.length > 0)
    .map((s) => s.join('\n'))
    .join('\n\n')}\n`
}

/** The check list alone, for the workshop. */
export const checkListText = (report: Report): string =>
  `${[`${report.project}, variant ${report.variant}`, '', ...checkList(report)].join('\n')}\n`

const mm = (v: number): string => fixed(v, 1)
const cut = (v: number | undefined): string => (v === undefined ? '–' : tenthsUp(v))
const rows = (head: readonly string[], body: readonly (readonly string[])[]): string[] =>
  aligned([head, ...body].map(([first, ...r]) => [`  ${first}`, ...r]))

function leadsText({ leads }: Report, name: Named): string[] {
  if (!leads) return []
  const keep = new Map(leads.keep.map((k) => [k.wire, k]))
  const table = rows(
    ['lead, mm', 'from', 'to', 'straight', 'round things', 'cut to', 'keep', 'there is', 'goes round'],
    leads.routes.map((r) => [
      r.wire,
      r.from,
      r.to,
      tenthsUp(r.straight),
      tenthsUp(r.length),
      r.there === undefined ? cut(r.cut) : need(r.cut, r.there)[0],
      cut(keep.get(r.wire)?.keep),
      r.there === undefined ? 'enough' : need(r.cut, r.there)[1],
      r.round.length > 0 ? r.round.map(name).join(', ') : '–',
    ]),
  )
  const variants = new Set(leads.keep.flatMap((k) => k.variants.map((v) => v.variant)))
  const what =
    variants.size > 1
      ? 'Keep: the longest over all variants given and every later move of an end. Do not cut shorter.'
      : 'Keep: the longest over this variant and every later move of an end to another breadboard or deck. Do not cut shorter.'
  return [
    'Leads:',
    ...table,
    `  ${what}`,
    ...leads.blocked.map(
      (b) => `  ${b.wire}: no way along the decks${b.by.length > 0 ? `, shut in by ${names(b.by.map(name))}` : ''}.`,
    ),
    ...leads.bundles.map(
      (b) => `  ${names(b.wires)} run side by side for ${mm(b.together)} mm on ${name(b.deck)}: tie them together.`,
    ),
  ]
}

function pinsText({ pins }: Report): string[] {
  if (!pins) return []
  const table = rows(
    ['item', 'pin', 'used as', 'net', 'joined to'],
    pins.table.map((r) => [
      r.item,
      r.name === r.pin ? r.pin : `${r.pin} (${r.name})`,
      `${r.as === '' ? '–' : r.as}${r.chosen ? ', chosen here' : ''}`,
      r.net,
      r.to.join('; ') || '–',
    ]),
  )
  const links = rows(
    ['net', 'with a', 'from', 'to', 'mm'],
    pins.links.map((l) => [
      l.net,
      l.kind === 'direct' ? 'wire' : l.kind,
      l.from.contact ? `${l.from.of}, ${l.from.name}` : l.from.name,
      l.to.contact ? `${l.to.of}, ${l.to.name}` : l.to.name,
      cut(l.length),
    ]),
  )
  return [
    'Pins:',
    ...(pins.table.length > 0 ? table : ['  No net has an end that is placed.']),
    ...(pins.links.length > 0 ? ['', 'Contact plan:', ...links] : []),
    ...pins.shared.map((s) => `  Net ${s.net}: ${names(s.pins)} share a strip, no jumper is needed.`),
  ]
}

/** What holds of several leads is said once. */
function leadLines(leads: Report['preparation']['leads']): string[] {
  const alike = new Map<string, { readonly gauge: string; readonly note: string; readonly list: string[] }>()
  for (const l of leads) {
    const gauge = l.gauge === undefined ? '' : ` of ${sized(l.gauge)}`
    const key = `${gauge}: ${l.note}`
    const same = alike.get(key) ?? { gauge, note: l.note, list: [] }
    alike.set(key, same)
    same.list.push(`${l.id} into ${l.contact}`)
  }
  return [...alike.values()].map(
    ({ gauge, note, list }) => `  - Lead${list.length === 1 ? '' : 's'}${gauge}: ${note}: ${list.join('; ')}.`,
  )
}

function preparationText({ preparation: p }: Report): string[] {
  const lines = [
    ...p.headers.map(
      (h) => `  - Snap off ${h.count} × ${h.pins} header pins (${h.why}): ${names([...new Set(h.for)])}.`,
    ),
    ...p.soldering.map(
      (s) =>
        `  - Solder the header of ${s.item} on its ${s.face}; pins, seen from above: ${s.rows
          .map((r) => r.join(' '))
          .join(' / ')}${s.note === '' ? '' : `; ${s.note}`}.`,
    ),
    ...leadLines(p.leads),
    ...p.relief.map((r) => `  - Exit ${r.exit}, ${names(r.leads)}: ${r.note}.`),
  ]
  const jumpers =
    p.jumpers.length > 0
      ? [
          '  Jumpers:',
          ...rows(
            ['net', 'from', 'to', 'steps', 'mm', 'wire'],
            p.jumpers.map((j) => [
              j.net,
              j.from,
              j.to,
              `${j.steps}`,
              say(j.length, 2),
              j.flexible === '' ? 'stiff' : `flexible: ${j.flexible}`,
            ]),
          ),
        ]
      : []
  const tools = p.tools.map((t) => `  - ${t.tool}, ${t.why}`)
  if (lines.length + jumpers.length + tools.length === 0) return []
  return [
    'To prepare:',
    ...lines,
    ...jumpers,
    ...(tools.length > 0 ? ['  Tools:', ...tools] : []),
    ...p.cautions.map((c) => `  ! ${c}`),
  ]
}
