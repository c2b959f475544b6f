/** The inspection beside the document: it follows, keeps the last report until the next, and says what of it is chosen. */
import { describe, expect, it, vi } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { mm, um } from '../../solver/index.ts'
import { reportText } from '../../src/cli/inspect-text.ts'
import { inspect } from '../../src/inspect/index.ts'
import { figures } from '../../src/statics/index.ts'
import { placementOf } from '../../src/store/moves.ts'
import { createReports } from '../../src/store/report.ts'
import { PARTS, textOf } from '../../src/store/report-blocks.ts'
import { partBlocks, poseRange } from '../../src/store/report-parts.ts'
import { checkSteps } from '../../src/store/report-robot.ts'
import { sheetLines } from '../../src/store/sheet-lines.ts'
import { shown } from '../../src/store/store.ts'
import { keepTicks, layoutKey, recallTicks, TICKS_KEY } from '../../src/store/ticks.ts'
import { viewOf } from '../../src/store/view.ts'
import {
  createInspector,
  type InspectAsk,
  type InspectSay,
  inspecting,
  type OpenInspect,
} from '../../src/worker/inspect.ts'
import { robot } from '../inspect/kit.ts'
import { inspectHere } from './here.ts'
import { elsewhere, reply, solvedSample } from './store-sample.ts'

const FIRST = { pan: 0, tilt: 0, slope: 0, slopeToward: 'front' } as const
const library = loadLibrary()

/** A line whose answers the test gives by hand. */
function handLine() {
  const asks: InspectAsk[] = []
  let hear: (say: InspectSay) => void = () => {}
  let broken: (error: string) => void = () => {}
  let ended = 0
  const open: OpenInspect = (h, b) => {
    hear = h
    broken = b
    return { ask: (ask) => asks.push(ask), end: () => ended++ }
  }
  const heard = inspecting((say) => hear(say))
  return { open, asks, answer: (k: number) => heard(asks[k]!), die: (e: string) => broken(e), ended: () => ended }
}

describe('the report of what is on the stage', () => {
  it('is the one that inspect makes, of every variant that comes to the stage', async () => {
    const deck = await solvedSample()
    const reports = createReports({ ...deck, end: () => {} }, createInspector(inspectHere, library))
    const now = () => reports.store.getState()
    expect(now()).toEqual({ looking: true })
    await vi.waitFor(() => expect(now().looking).toBe(false))
    const { history } = deck.store.getState()
    const [whole, bare] = history.doc.sheets
    const others = [{ variant: 'bare', placements: shown(deck.store.getState(), bare!) }]
    const placements = shown(deck.store.getState(), whole!)
    expect(now().report).toEqual(inspect(history.doc.project, library, whole!.problem, placements, { others }))
    expect(now().report?.leads?.keep[0]?.variants.map((v) => v.variant)).toEqual(['whole', 'bare'])
    deck.actions.choose(1)
    // Of another variant nothing is shown, not even for a moment.
    expect(now()).toEqual({ looking: true })
    await vi.waitFor(() => expect(now().report?.variant).toBe('bare'))
    reports.end()
  })

  it('follows what is carried, keeping the last report; what came between is skipped, and only what is new is sent', async () => {
    const deck = await solvedSample()
    const line = handLine()
    const reports = createReports({ ...deck, end: () => {} }, createInspector(line.open, library))
    const now = () => reports.store.getState()
    expect(Object.keys(line.asks[0]!).sort()).toEqual(['id', 'library', 'others', 'placements', 'problem', 'project'])
    line.answer(0)
    const first = now().report
    expect(first).toBeDefined()
    deck.actions.select('one')
    deck.actions.lift('one', 'pointer')
    for (const x of [10_000, 20_000, 30_000]) {
      const { carry } = deck.store.getState()
      const at = placementOf(carry!.placements, 0)!
      deck.actions.carryTo({ ...at, at: { x: um(x), y: um(40_000) } })
    }
    expect(line.asks.length).toBe(2)
    expect(Object.keys(line.asks[1]!).sort()).toEqual(['id', 'placements'])
    expect(now()).toMatchObject({ looking: true, report: first })
    line.answer(1)
    // A step behind, it is told all the same, so that it follows while the hand goes on.
    expect(now().looking).toBe(true)
    expect(now().report).not.toBe(first)
    expect(line.asks.length).toBe(3)
    line.answer(2)
    expect(now().looking).toBe(false)
    expect(placementOf(now().of!.placements, 0)!.at.x).toBe(mm(30))
    deck.actions.takeBack()
    line.answer(3)
    expect(now().report).toEqual(first)
    reports.end()
    expect(line.ended()).toBe(1)
  })

  it('looks now and then at what a solve comes by, and at once when that has ended', async () => {
    const deck = await solvedSample()
    const line = handLine()
    const reports = createReports({ ...deck, end: () => {} }, createInspector(line.open, library))
    line.answer(0)
    vi.useFakeTimers()
    try {
      deck.actions.hold('one')
      // What a search for the best comes by is on show; a sound layout of one's own is not left for anything.
      deck.actions.rearrange()
      const { asked } = deck
      const { placements } = deck.store.getState().history.doc.sheets[0]!
      asked.at(-1)!.say([...placements!])
      asked.at(-1)!.say([...placements!])
      expect([line.asks.length, reports.store.getState().looking]).toEqual([1, true])
      vi.advanceTimersByTime(800)
      expect(line.asks.length).toBe(2)
      line.answer(1)
      asked.at(-1)!.say([...placements!])
      expect(line.asks.length).toBe(2)
    } finally {
      vi.useRealTimers()
    }
    await reply(deck.asked.at(-1)!)
    expect(line.asks.length).toBe(3)
    line.answer(2)
    expect(reports.store.getState().looking).toBe(false)
    reports.end()
  })

  it('looks once at a layout of one’s own that keeps all rules, whatever a solve comes by', async () => {
    const deck = await solvedSample()
    const line = handLine()
    const sheet = () => deck.store.getState().history.doc.sheets[0]!
    deck.actions.lift('one', 'pointer')
    deck.actions.carryTo(elsewhere(sheet().problem, shown(deck.store.getState(), sheet()), 'one'))
    deck.actions.drop()
    const { placements } = sheet()
    vi.useFakeTimers()
    const reports = createReports({ ...deck, end: () => {} }, createInspector(line.open, library))
    try {
      deck.asked.at(-1)!.say([...placements!])
      expect(line.asks.length).toBe(0)
      vi.advanceTimersByTime(800)
      expect(line.asks.length).toBe(1)
      line.answer(0)
      expect(reports.store.getState().of!.placements).toBe(placements)
    } finally {
      vi.useRealTimers()
    }
    await reply(deck.asked.at(-1)!)
    expect([line.asks.length, reports.store.getState().looking]).toEqual([1, false])
    reports.end()
  })

  it('says when the thread died, and looks again with a new one', async () => {
    const deck = await solvedSample()
    const line = handLine()
    const reports = createReports({ ...deck, end: () => {} }, createInspector(line.open, library))
    line.die('out of memory')
    expect(reports.store.getState()).toEqual({ failed: 'out of memory', looking: false })
    deck.actions.lift('one', 'keys')
    deck.actions.nudge(1, 0)
    expect(Object.keys(line.asks[1]!)).toContain('library')
    line.answer(1)
    expect(reports.store.getState().failed).toBeUndefined()
    expect(reports.store.getState().report).toBeDefined()
    reports.end()
  })

  it('lights what a chosen sentence speaks of, until it is chosen again or something else is in the hand', async () => {
    const deck = await solvedSample()
    const reports = createReports({ ...deck, end: () => {} }, createInspector(handLine().open, library))
    const chosen = () => reports.store.getState().chosen?.items
    reports.choose('one and two are close', ['main', 'two', 'one'])
    expect([chosen(), deck.store.getState().selected]).toEqual([['main', 'two', 'one'], 'two'])
    deck.actions.select('one')
    expect(chosen()).toEqual(['main', 'two', 'one'])
    deck.actions.select('board')
    expect(chosen()).toBeUndefined()
    reports.choose('link is long', ['link'])
    expect([deck.store.getState().hoveredWire, deck.store.getState().selected]).toEqual([0, 'board'])
    reports.choose('link is long', ['link'])
    expect(chosen()).toBeUndefined()
    reports.end()
  })
})

describe('the findings sheet', () => {
  it('puts broken rules first and what stops the job before what is worth knowing, and says nothing twice', async () => {
    const { store, actions } = await solvedSample()
    const { problem } = store.getState().history.doc.sheets[0]!
    const [a, b] = [placementOf(shown(store.getState(), store.getState().history.doc.sheets[0]!), 0)!, 1]
    actions.lift('two', 'pointer')
    actions.carryTo({ ...a, item: b, at: { x: um(a.at.x + 2000), y: a.at.y } })
    const view = viewOf(store.getState(), 0)!
    const finding = (weight: 'stops' | 'worth-knowing', text: string, topic = 'power') => ({
      topic,
      kind: 'fuse',
      weight,
      items: ['board#2'],
      text,
    })
    const report = {
      ...inspect(store.getState().history.doc.project, library, problem, view.placements),
      findings: [
        finding('stops', 'An old broken rule.', 'layout'),
        finding('stops', 'board#2 has no fuse.'),
        finding('worth-knowing', 'board#2 has no fuse.'),
        finding('worth-knowing', 'It gets warm.'),
      ],
    }
    const { stops, worthKnowing, conflict } = sheetLines(view, { report })
    expect(conflict).toEqual([])
    expect(stops.length).toBeGreaterThan(1)
    expect(stops[0]!.text).toMatch(/one and two overlap by/i)
    expect(stops[0]!.text).toMatch(/\d mm/)
    expect(stops.map((l) => l.text)).not.toContain('An old broken rule.')
    expect(stops.at(-1)).toEqual({ text: 'board 2 has no fuse.', items: ['board#2'] })
    expect(worthKnowing.map((l) => l.text)).toEqual(['It gets warm.'])
  })
})

describe('the parts of the report', () => {
  const r = robot()
  const report = inspect(r.project, library, r.problem, r.placements)
  const blocks = (part: (typeof PARTS)[number], look: Parameters<typeof partBlocks>[3] = FIRST) =>
    partBlocks(part, report, r, look, new Set())
  const text = (part: (typeof PARTS)[number], look?: Parameters<typeof partBlocks>[3]) =>
    textOf(part, blocks(part, look))

  it('say all that was worked out, in words and tables of whole rows', () => {
    for (const part of PARTS) {
      const all = blocks(part)
      expect(all.length, part).toBeGreaterThan(0)
      for (const b of all)
        if (b.kind === 'table') for (const row of b.rows) expect(row.cells.length).toBe(b.columns.length)
      expect(text(part)).not.toMatch(/undefined|NaN|\[object|#\d/)
    }
    // Counted on the drawing of the robot (tests/inspect): 86 mm as the crow flies, 10 mm of loop.
    expect(text('wires')).toMatch(/^battery +pack +master +86\.0 +86\.0 +96\.0 /m)
    expect(text('pins')).toMatch(/Pin table/)
    expect(text('power')).toMatch(/pack: 7\.4 V with nothing drawn/)
    expect(text('service')).toMatch(/pack, cells: (in|out of) reach/)
  })

  it('follow the sliders: on a slope that is steep enough it tips, and the head says where it may stand', () => {
    const worst = report.balance!.level.loadings.map((l) => l.tip.forward)
    const [least, most] = [Math.min(...worst), Math.max(...worst)]
    expect(text('balance')).not.toMatch(/downhill/)
    expect(text('balance', { ...FIRST, slope: Math.floor(least) - 1 })).toMatch(/passes [\d.]+ mm inside/)
    expect(text('balance', { ...FIRST, slope: Math.ceil(most) + 1 })).toMatch(/it tips\./)
    const range = poseRange(r)!
    const [head] = report.heads
    expect([range.pan, range.tilt]).toEqual([head!.pan, head!.tilt])
    // Pan counts to the left as seen from above, so that what is negative lies to the right.
    const [from, to] = head!.pan.map((v) => `${Math.abs(v)}° ${v > 0 ? 'left' : 'right'}`)
    expect([from, to].join()).toMatch(/right.*left/)
    expect(text('head')).toContain(`Pan that is free at every tilt: ${from} to ${to}.`)
    expect(text('head', { ...FIRST, pan: 20, tilt: 0 })).toMatch(/neck, 20° to the left, level: /)
    expect(text('head', { ...FIRST, pan: range.pan[1] + 1 })).toMatch(/it does not go there/)
  })

  it('have the figures that the commands print, rounded to where the robot is worse off', () => {
    const ground = { slope: 20, towards: { x: 1, y: 0 } }
    const bad = robot((p) => {
      p.settings = { ...p.settings, leastTipAngle: Number(report.balance!.level.worstTip.toFixed(1)) + 0.01 }
    })
    const of = inspect(bad.project, library, bad.problem, bad.placements, { ground })
    const page = (part: (typeof PARTS)[number]) =>
      textOf(part, partBlocks(part, of, bad, { ...FIRST, slope: 20, slopeToward: 'right' }, new Set()))
    const command = reportText(of, bad.problem)
    // The page's table of the slope has shares as well.
    const figuresOf = (said: string, row: RegExp) =>
      (said.match(row) ?? []).map((line) => line.match(/-?\d+(\.\d+)?(?= N|°)|\d(?= %\. It)/g))
    for (const row of [/^ *(lightest|heaviest) stacks.*$/gm, /At worst of all loadings.*$/gm])
      expect(figuresOf(page('balance'), row)).toEqual(figuresOf(command, row))
    // the worst of all has later items reach out, the tracks of the table have not: the figures differ, and both say why
    const level = { ...of.balance!.level, reaching: ['arm'] }
    const arm = { ...of, balance: { ...of.balance!, level } }
    for (const said of [
      reportText(arm, bad.problem),
      textOf('balance', partBlocks('balance', arm, bad, FIRST, new Set())),
    ])
      expect(said).toMatch(
        /At worst of all loadings, with arm reaching out to the side where it is worst, it tips on .* %\. In the table the tracks carry arm without its reach\./,
      )
    expect(command).not.toMatch(/reaching out/)
    const { worstTip, loadings } = of.balance!.level
    const said = Number(/At worst of all loadings it tips on ([\d.]+)°/.exec(command)![1])
    expect(said).toBeLessThanOrEqual(worstTip)
    expect(said).toBeGreaterThan(worstTip - 0.1)
    for (const l of loadings)
      expect(page('balance')).toContain(`${figures.tip(l.tip.left, bad.problem.leastTipAngle)}°`)
    // 2.2 Ah over what is drawn: never longer than that, and less than a tenth of an hour less
    const { idle, running } = of.power!.supplies[0]!.hours
    const lasts = (of: string) => [...of.matchAll(/([\d.]+) h (?:at rest|idle|running)/g)].map((m) => Number(m[1]))
    expect(lasts(page('power'))).toEqual(lasts(command))
    for (const [i, hours] of [idle!, running!].entries()) {
      expect(lasts(command)[i]).toBeLessThanOrEqual(hours)
      expect(lasts(command)[i]).toBeGreaterThan(hours - 0.1)
    }
    const spansOf = (text: string, after: RegExp) =>
      text
        .slice(text.search(after))
        .match(/\d+(\.\d+)?(?=°)/g)!
        .slice(0, 4)
    expect(spansOf(command, /Pan free at every tilt/)).toEqual(spansOf(page('head'), /Pan that is free/))
    // and which way an angle goes, in the same words
    const two = { head: 'neck', pan: [[-60, -53.6] as const, [-14.9, 14.9] as const] }
    const turning = { ...of, service: { ...of.service, steps: [{ ...of.service.steps[0]!, turn: [two] }] } }
    const turns = 'neck to anywhere from 60° right to 53.6° right, or from 14.9° right to 14.9° left'
    expect(reportText(turning, bad.problem)).toContain(turns)
    expect(textOf('service', partBlocks('service', turning, bad, FIRST, new Set()))).toContain(turns)
  })

  it('of a lead say no more than there is, no less than it needs, and whether it reaches', () => {
    const leads = {
      routes: [{ ...report.leads!.routes[0]!, straight: 35.21, length: 35.24, cut: 45.24, there: 45.29 }],
      ...{ blocked: [], bundles: [], keep: [] },
    }
    const hand = { ...report, leads }
    for (const said of [textOf('wires', partBlocks('wires', hand, r, FIRST, new Set())), reportText(hand, r.problem)])
      expect(said).toMatch(/^ *battery .* 35\.3 +35\.3 +45\.24 +– +45\.29 /m)
  })

  it('say in its own part what the project does not say enough for', () => {
    const r2 = robot((p) => {
      p.chassis = undefined
    })
    const bare = inspect(r2.project, library, r2.problem, r2.placements)
    expect(bare.missing.map((m) => m.part)).toContain('balance')
    for (const m of bare.missing) {
      const where = PARTS.filter((p) => textOf(p, partBlocks(p, bare, r2, FIRST, new Set())).includes(m.text))
      expect(where.length).toBe(1)
    }
  })

  it('begin the check list with the cautions, and copy it with its ticks', () => {
    const steps = checkSteps(report, r.problem)
    const copied = textOf('list', partBlocks('first', report, r, FIRST, new Set([steps[1]!.text])))
    expect(copied.indexOf('licensed practice')).toBeLessThan(copied.indexOf('1. '))
    expect(copied).toContain(`- [ ] 1. ${steps[0]!.text}`)
    expect(copied).toContain(`- [x] 2. ${steps[1]!.text}`)
  })
})

describe('ticks of the check list', () => {
  const shelf = (fails = false) => {
    const kept = new Map<string, string>()
    return {
      getItem: (k: string) => kept.get(k) ?? null,
      setItem: (k: string, v: string) => {
        if (fails) throw new Error('full')
        kept.set(k, v)
      },
      kept,
    }
  }
  const r = robot()

  it('are kept for one layout alone, and are there again when it is', () => {
    const s = shelf()
    const key = layoutKey(r.problem, r.placements)
    expect(keepTicks(s, key, new Set(['fuse is in']))).toBe(true)
    expect([...recallTicks(s, key)]).toEqual(['fuse is in'])
    const [first, ...rest] = r.placements
    const moved = [{ ...first!, at: { ...first!.at, x: um(first!.at.x + 100) } }, ...rest]
    expect([...recallTicks(s, layoutKey(r.problem, moved))]).toEqual([])
    expect(layoutKey(r.problem, [...r.placements].reverse())).toBe(key)
    for (let i = 0; i < 60; i++) keepTicks(s, `other ${i}`, new Set(['x']))
    expect(JSON.parse(s.kept.get(TICKS_KEY)!).length).toBe(40)
    expect([...recallTicks(s, key)]).toEqual([])
  })

  it('say where the browser keeps nothing, and what was spoiled is none', () => {
    expect(keepTicks(undefined, 'k', new Set(['x']))).toBe(false)
    expect(keepTicks(shelf(true), 'k', new Set(['x']))).toBe(false)
    const s = shelf()
    for (const bad of ['{', '7', '[7,["k",[7]],["k","x"]]']) {
      s.kept.set(TICKS_KEY, bad)
      expect([...recallTicks(s, 'k')]).toEqual([])
    }
  })
})
