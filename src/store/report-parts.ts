/** Every part of a report by its name, with the poses and slopes of the sliders. */
import { calledIn } from '../../solver/index.ts'
import type { Report } from '../inspect/index.ts'
import { balanceOf, DIRECTIONS, figures, freeTilts, tipsBy, viewAt } from '../statics/index.ts'
import { words } from '../words/index.ts'
import type { Downhill, Layers } from './layers.ts'
import type { Seen } from './report.ts'
import { type Block, blocksIn, line, lines, type PartName } from './report-blocks.ts'
import { balancePart, firstPart, headPart, powerPart, servicePart, tiltSpans } from './report-robot.ts'
import { pinsPart, preparePart, wiresPart } from './report-wiring.ts'
import { plainIn } from './sentences.ts'

export type Look = Pick<Layers, 'pan' | 'tilt' | 'slope' | 'slopeToward'>

const TOWARDS: Readonly<Record<Downhill, keyof typeof DIRECTIONS>> = {
  front: 'forward',
  back: 'back',
  left: 'left',
  right: 'right',
}

/** Where the page says what a report leaves out. */
const MISSING: Readonly<Record<Report['missing'][number]['part'], PartName>> = {
  leads: 'wires',
  pins: 'pins',
  power: 'power',
  balance: 'balance',
  heads: 'head',
  views: 'head',
  access: 'service',
  'before-power': 'first',
}

/** `done`: what of the check list's texts is ticked. */
export function partBlocks(
  part: PartName,
  report: Report,
  of: Pick<Seen, 'problem' | 'placements'>,
  look: Look,
  done: ReadonlySet<string>,
): Block[] {
  const missing = report.missing.filter((m) => MISSING[m.part] === part).map((m) => line(m.text))
  const all = [...blocksOf(part, report, of, look, done), ...lines(missing, words.report.missing)]
  return blocksIn(all, plainIn([of.problem]))
}

function blocksOf(
  part: PartName,
  report: Report,
  of: Pick<Seen, 'problem' | 'placements'>,
  look: Look,
  done: ReadonlySet<string>,
): Block[] {
  switch (part) {
    case 'wires':
      return wiresPart(report, of.problem)
    case 'pins':
      return pinsPart(report)
    case 'prepare':
      return preparePart(report)
    case 'power':
      return powerPart(report)
    case 'balance':
      return [...slopeNow(of, look), ...balancePart(report, slopeOf(of, look))]
    case 'head':
      return [...poseNow(report, of, look), ...headPart(report, of.problem)]
    case 'service':
      return servicePart(report, of.problem)
    case 'first':
      return firstPart(report, of.problem, done)
  }
}

function slopeOf({ problem, placements }: Pick<Seen, 'problem' | 'placements'>, { slope, slopeToward }: Look) {
  const ground = { slope, towards: DIRECTIONS[TOWARDS[slopeToward]] }
  const balance = slope === 0 ? undefined : balanceOf(problem, placements, ground)
  return balance && { degrees: slope, towards: slopeToward, loadings: balance.loadings }
}

function slopeNow(of: Pick<Seen, 'problem' | 'placements'>, look: Look): Block[] {
  const t = words.report.balance
  const now = slopeOf(of, look)
  if (!now) return []
  const least = Math.min(...now.loadings.map((l) => l.margin))
  return lines([
    line(tipsBy(least) ? t.tips(now.degrees, now.towards) : t.now(now.degrees, now.towards, figures.margin(least))),
  ])
}

/** Whether a head may stand as the sliders say, and what it sees there. */
function poseNow(report: Report, { problem, placements }: Pick<Seen, 'problem' | 'placements'>, look: Look): Block[] {
  const t = words.report.head
  const s = words.report.sliders
  const heads = report.heads.map((h) => {
    const item = problem.items.findIndex((i) => i.id === h.item)
    const inRange = look.pan >= h.pan[0] && look.pan <= h.pan[1] && look.tilt >= h.tilt[0] && look.tilt <= h.tilt[1]
    const tilts = freeTilts(problem, placements, item, look.pan) ?? []
    const free = tilts.some(([a, b]) => look.tilt >= a && look.tilt <= b)
    const said = !inRange ? t.outOfRange : free ? t.fits : t.hits(tiltSpans(tilts))
    const seen = inRange ? viewAt(problem, placements, item, look) : undefined
    const blockers = (seen?.blockers ?? []).map((b) =>
      t.blocker(b.kind === 'stack' ? t.stackOf(b.id) : calledIn(problem, b.id), figures.share(b.share, 1)),
    )
    const sees = !seen ? '' : blockers.length > 0 ? t.inView(blockers) : t.clear
    const pose = t.pose(h.item, s.panSaid(look.pan), s.tiltSaid(look.tilt), said, sees)
    return line(pose, [h.item, ...(seen?.blockers ?? []).map((b) => b.id)])
  })
  return lines(heads)
}

/** Pan and tilt that the heads of a layout have together, whole degrees; undefined without a head. */
export function poseRange({ problem, placements }: Pick<Seen, 'problem' | 'placements'>) {
  const heads = placements.flatMap((p) => problem.items[p.item]?.footprint.head ?? [])
  if (heads.length === 0) return undefined
  return {
    pan: [Math.min(...heads.map((h) => h.pan[0])), Math.max(...heads.map((h) => h.pan[1]))] as const,
    tilt: [Math.min(...heads.map((h) => h.tilt?.[0] ?? 0)), Math.max(...heads.map((h) => h.tilt?.[1] ?? 0))] as const,
  }
}
