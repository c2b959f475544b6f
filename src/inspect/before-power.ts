/**
 * The check list before power is on, made from this project: what to look at and measure with everything disconnected, then the first
 * power with the wheels off the ground, one motor at a time. The order is common practice, no source; local codes, the makers' sheets and
 * licensed practice come before all of it.
 */
import { type Netlist, names, nodeName, type Part, type PowerModel, say } from '../electric/index.ts'
import type { ServiceOrder } from '../statics/index.ts'
import { type Motor, type PowerFacts, powerFacts } from './facts.ts'
import type { Finding } from './report.ts'

export interface Step {
  readonly text: string
  /** Ids of the items, wires, exits, nets and decks that it names. */
  readonly items: readonly string[]
  readonly why?: string
}

export interface BeforePower {
  readonly cautions: readonly string[]
  /** In this order. */
  readonly steps: readonly Step[]
}

const CAUTIONS: readonly string[] = [
  "Local codes, the makers' sheets of cells and parts, and licensed practice come first. Where they say otherwise, they are right.",
  'Wear eye protection, take off rings and watches, and keep hair and sleeves away from whatever turns.',
  'A short circuit of cells can burn and start a fire. Keep a way clear to disconnect them, and never leave them alone while you test. Use no cells that are swollen, dented or hot.',
  'If anything smells, smokes or gets hot, disconnect the supply first and look for the reason afterwards.',
]

/** `service`: what comes off before what, which tells what an upper deck hides. `stops`: what stops the job in wires and power. */
export function beforePower(
  model: PowerModel,
  netlist: Netlist,
  service: Pick<ServiceOrder, 'steps'>,
  facts: PowerFacts = powerFacts(model, netlist),
  stops: readonly Finding[] = [],
): BeforePower {
  const steps = [
    ...disconnect(facts),
    ...mendFirst(stops),
    ...looseParts(model, service),
    ...contacts(model, netlist),
    ...polarity(model, netlist, facts),
    ...commonReturn(model, facts),
    ...shorts(facts),
    ...fuses(facts),
    ...programming(facts),
    ...switches(facts),
    ...wheelsUp(facts),
    ...firstPower(model, facts),
    ...motors(facts),
    ...hot(facts),
    ...lastSteps(facts),
  ]
  return { cautions: CAUTIONS, steps }
}

const step = (text: string, items: readonly string[] = [], why?: string): Step => ({
  text,
  items: [...new Set(items)],
  ...(why === undefined ? {} : { why }),
})

const idOf = (p: Part): string => p.body.item.id

function disconnect({ supplies, controllers }: PowerFacts): Step[] {
  const packs = supplies.map(idOf)
  const who = packs.length > 0 ? `: ${names(packs)}` : ''
  const data = controllers.length > 0 ? `, and the data lead of ${names(controllers)}` : ', and every data lead'
  return [
    step(
      `Disconnect every supply${who}${data}.`,
      [...packs, ...controllers],
      'A data lead feeds the robot too. Nothing below is done with power on until it says so.',
    ),
  ]
}

/** A list that ends with power on must not be walked through past what is known to be wrong. */
function mendFirst(stops: readonly Finding[]): Step[] {
  if (stops.length === 0) return []
  const what = stops.length === 1 ? 'One finding' : `${stops.length} findings`
  return [
    step(
      `${what} about wires and power ${stops.length === 1 ? 'stops' : 'stop'} the job: leave everything disconnected until ${stops.length === 1 ? 'it is' : 'all of them are'} mended.`,
      stops.flatMap((f) => f.items),
      'With power on, each of them can destroy parts, start a motor, or make the robot fail in the middle of its work.',
    ),
  ]
}

/** What an upper deck will hide is looked at first; then what hangs under a deck. */
function looseParts(model: PowerModel, service: Pick<ServiceOrder, 'steps'>): Step[] {
  const { problem, bodies } = model.layout
  const decks = new Set(problem.decks.map((d) => d.id))
  const itemIds = new Set(problem.items.map((i) => i.id))
  const heights = new Map(problem.decks.map((d) => [d.id, d.z]))
  // by the lowest deck that goes over it: from then on it is out of reach
  const hidden = new Map<string, string[]>()
  for (const s of service.steps) {
    if (s.kind !== 'item') continue
    const over = s.first.filter((id) => decks.has(id) && !itemIds.has(id))
    const [lowest] = over.sort((a, b) => heights.get(a)! - heights.get(b)!)
    if (lowest !== undefined) hidden.set(lowest, [...(hidden.get(lowest) ?? []), s.id])
  }
  const byHeight = [...hidden].sort(([a], [b]) => heights.get(a)! - heights.get(b)!)
  const hanging = bodies.filter((b) => b.item.footprint.mount.kind === 'drop-in' && !b.item.later).map((b) => b.item.id)
  const moving = problem.zones.filter((z) => z.kind === 'underside').map((z) => z.id)
  const near = [...hanging, ...moving]
  return [
    ...byHeight.map(([deck, under]) =>
      step(
        `Before deck ${deck} goes on, look over what it hides: ${names(under)}. Every lead there is in place and held.`,
        [deck, ...under],
        'It cannot be reached afterwards without taking the deck off.',
      ),
    ),
    step(
      `Look under every deck and turn the robot gently over: no loose screw, nut, washer, swarf or cut wire end${
        near.length > 0 ? `, and nothing touches ${names(near)}` : ''
      }.`,
      near,
      'Loose metal finds two contacts sooner or later.',
    ),
  ]
}

function contacts(model: PowerModel, netlist: Netlist): Step[] {
  const boards = model.layout.bodies.filter((b) => b.item.footprint.breadboard && !b.item.later).map((b) => b.item.id)
  if (boards.length === 0) return []
  const table = netlist.nets.length > 0 ? ' Compare every jumper with the contact plan, row by row.' : ''
  return [
    step(
      `Pull gently at every lead and jumper in ${names(boards)}: none comes out, no bare ends touch.${table}`,
      boards,
    ),
  ]
}

/** What goes to plus and what to minus of each supply and regulator: by its nets, else by its leads. */
function polarity(model: PowerModel, netlist: Netlist, { supplies, regulators, wired }: PowerFacts): Step[] {
  const { problem } = model.layout
  return [...supplies, ...regulators]
    .filter((p) => wired.has(p.item))
    .map((p): Step => {
      const id = idOf(p)
      const byNet = (kinds: readonly string[]) =>
        netlist.nets.flatMap((net) => {
          const here = net.nodes.find((n) => n.kind === 'pad' && n.item === p.item && kinds.includes(n.pad.kind ?? ''))
          const others = net.nodes.filter((n) => n !== here).map((n) => nodeName(problem, n))
          if (!here || others.length === 0) return []
          // a net of returns is spelt out once, where the common return is measured
          const to =
            here.kind === 'pad' && here.pad.kind === 'return' ? `the net ${net.id}, listed below` : spelt(others)
          return [`${nodeName(problem, here)} goes to ${to}`]
        })
      const nets = { out: byNet(['supply-out', 'logic-out']), back: byNet(['return']) }
      const domain = model.domains.find((d) => d.source.item === p.item)
      // a lead is told of where no net has said it
      const leads = (domain?.leads ?? []).filter(
        (l) => (l.a === p.item || l.b === p.item) && (l.path === 'pair' ? nets.out : nets[l.path]).length === 0,
      )
      const byLead = leads.map((l) => {
        const both = l.path === 'pair' && nets.back.length === 0
        const what = both ? 'plus and minus' : l.path === 'back' ? 'minus' : 'plus'
        return `${what}: the lead ${l.id} goes to ${model.nameOf(l.a === p.item ? l.b : l.a)}`
      })
      const how = [...nets.out.map((t) => `plus: ${t}`), ...byLead, ...nets.back.map((t) => `minus: ${t}`)]
      const where = p.power.supply || p.body.item.footprint.kind === 'pack' ? '' : 'at the output '
      const said = how.length > 0 ? ` ${capital(how.join('. '))}.` : ''
      return step(
        `Check the polarity ${where}of ${id} by eye and by the meter, up to the far end of each lead.${said}`,
        [id, ...leads.map((l) => l.id)],
        'The wrong way round, parts and cells are destroyed at once.',
      )
    })
}

/** Names that have commas in them. */
const spelt = (list: readonly string[]): string => list.join('; ')

const capital = (text: string): string =>
  text.replace(
    /(^|\. )(plus|minus)/g,
    (_, before: string, word: string) => `${before}${word[0]!.toUpperCase()}${word.slice(1)}`,
  )

function commonReturn(model: PowerModel, { returns, supplies, regulators, drivers, controllers }: PowerFacts): Step[] {
  const { problem } = model.layout
  const why = 'Without a common return a signal means nothing between two parts.'
  if (returns.length > 0) {
    return returns.map((net) => {
      const ends = net.nodes.map((n) => nodeName(problem, n))
      return step(
        `Common return: by the meter, these are one conductor (net ${net.id}): ${spelt(ends)}.`,
        [net.id],
        why,
      )
    })
  }
  const all = [...new Set([...supplies.map(idOf), ...regulators.map(idOf), ...controllers, ...drivers])]
  if (all.length < 2) return []
  return [
    step(
      `Common return: by the meter, the returns (minus) of ${names(all)} are one conductor, unless a part's sheet says that it must be apart.`,
      all,
      why,
    ),
  ]
}

function shorts({ supplies, regulators, wired }: PowerFacts): Step[] {
  const all = [...supplies, ...regulators].filter((p) => wired.has(p.item)).map(idOf)
  if (all.length === 0) return []
  return [
    step(
      `No short circuit: switches closed and cells still disconnected, the meter shows no continuity between plus and minus of the leads that go to ${names(all)}.`,
      all,
      'Measure on the side of the robot, never across connected cells.',
    ),
  ]
}

function fuses({ supplies, fuses: parts, wired }: PowerFacts): Step[] {
  const why = 'It is what stops a short circuit from burning.'
  const inside = supplies.filter((p) => p.power.supply?.fuse !== undefined)
  const list = [
    ...inside.map((p) => `${idOf(p)}: ${say(p.power.supply!.fuse!, 2)} A`),
    ...parts.map((p) => `${idOf(p)}${p.power.rating === undefined ? '' : `: ${say(p.power.rating, 2)} A`}`),
  ]
  const none = parts.length > 0 ? [] : supplies.filter((p) => !inside.includes(p) && wired.has(p.item)).map(idOf)
  return [
    ...(list.length > 0
      ? [
          step(
            `The right fuse is in (${list.join('; ')}), and a spare of the same rating at hand.`,
            [...inside, ...parts].map(idOf),
            why,
          ),
        ]
      : []),
    ...(none.length > 0
      ? [step(`Fit a fuse near the plus lead of ${names(none)}: the project names none.`, none, why)]
      : []),
  ]
}

function programming({ programming: lines }: PowerFacts): Step[] {
  return lines.map(({ net, listeners, by }) => {
    const why = `${names(listeners)} listens on that line: the bytes of a program would be read as commands, and the wheels may start by themselves.`
    return by === undefined
      ? step(`Pull the lead of net ${net} off ${names(listeners)} before you load a program.`, [net], why)
      : step(
          `Open ${by}, the switch in net ${net}, before you load a program, and until the wheels are off the ground.`,
          [by, net],
          why,
        )
  })
}

/** Everything that turns the power off by hand. */
const offs = ({ switches: list, supplies }: PowerFacts): string[] => [
  ...list,
  ...supplies.filter((p) => p.power.supply?.switched).map((p) => `the switch of ${idOf(p)}`),
]

function switches(facts: PowerFacts): Step[] {
  const all = offs(facts)
  const items = [...facts.switches, ...facts.supplies.filter((p) => p.power.supply?.switched).map(idOf)]
  const which = all.length === 1 ? 'it' : 'each'
  return all.length > 0
    ? [step(`Switch off: ${names(all)}. You reach ${which} without putting a hand near a wheel.`, items)]
    : [step('The project names no master switch: keep the plug of the supply in one hand, ready to pull.')]
}

function wheelsUp({ motors: list, heads }: PowerFacts): Step[] {
  const who = list.map((m) => m.id)
  const room = heads.length > 0 ? ` Keep hands and leads out of the way of ${names(heads)}.` : ''
  return [
    step(
      `Stand the robot on a block so that wheels and tracks turn freely off the ground, and hold it there.${room}`,
      [...who, ...heads],
      'A program or a wrong wire may start the motors at any moment.',
    ),
  ]
}

function firstPower(model: PowerModel, facts: PowerFacts): Step[] {
  const { supplies, regulators, wired } = facts
  const list = offs(facts)
  const expect = (p: Part): string => {
    const d = model.domains.find((k) => k.source.item === p.item)
    return d ? `the project expects about ${say(d.volts, 2)} V` : 'its sheet says how many volts to expect'
  }
  const on = list.length > 0 ? ` and switch on ${names(list)}` : ''
  const packs = supplies.filter((p) => wired.has(p.item))
  return [
    ...packs.map((p, i) =>
      step(
        `${i === 0 ? `Connect ${idOf(p)} alone${on}` : `Connect ${idOf(p)} as well`}. Measure where its leads end: ${expect(p)}. Wait a minute: nothing gets warm, smells or hums.`,
        [idOf(p), ...(i === 0 ? facts.switches : [])],
      ),
    ),
    ...regulators
      .filter((p) => wired.has(p.item))
      .map((p) =>
        step(`Measure at the output of ${idOf(p)}: ${expect(p)}. Only then connect what it feeds.`, [idOf(p)]),
      ),
  ]
}

const NUMBERS = ['one', 'two', 'three', 'four', 'five', 'six']

function motors(facts: PowerFacts): Step[] {
  const off = offs(facts)
  const stop = off.length > 0 ? `switch off at ${names(off)}` : 'disconnect the supply'
  return facts.motors.map((m, i) =>
    step(
      `Motor ${NUMBERS[i] ?? i + 1}, ${m.id}: let it alone run slowly for a second. Does it drive the robot forward? If not, ${stop}, swap ${swapped(m)}, and try again.`,
      [m.id, ...m.leads.flatMap((l) => [l.wire ?? [], l.item ?? []].flat())],
    ),
  )
}

/** Both conductors of one lead, or two leads of one conductor each. */
function swapped({ leads }: Motor): string {
  const [one] = leads
  if (!one) return 'its two conductors'
  const wires = leads.flatMap((l) => l.wire ?? [])
  if (leads.length === 2 && wires.length === 2 && leads.every((l) => l.at === one.at))
    return `the leads ${names(wires)} at ${one.at}`
  const ends = leads.map((l) => `${l.wire === undefined ? 'its lead' : `the lead ${l.wire}`} at ${l.at}`)
  return `the two conductors of ${names(ends)}`
}

function hot({ drivers, regulators }: PowerFacts): Step[] {
  const all = [...new Set([...drivers, ...regulators.map(idOf)])]
  const who =
    all.length === 1
      ? `${all[0]} gets hot`
      : all.length > 1
        ? `one of ${names(all)} gets hot`
        : 'a driver or regulator gets hot'
  return [
    step(
      `Stop if ${who}: disconnect, and find out why before you go on. Hold a hand near it, do not touch it.`,
      all,
      'A hot driver means a stalled or short-circuited motor, or one that is too strong for it.',
    ),
  ]
}

function lastSteps({ heads, motors: list }: PowerFacts): Step[] {
  return [
    ...(heads.length > 0
      ? [step(`Move ${names(heads)} slowly to each end of pan and tilt: nothing is hit, no lead gets tight.`, heads)]
      : []),
    ...(list.length > 1
      ? [
          step(
            `All motors together, still off the ground: ${names(list.map((m) => m.id))} turn the same way, and nothing starts again by itself.`,
            list.map((m) => m.id),
          ),
        ]
      : []),
    step('Then on the ground, slowly, in a clear place, one hand at the switch, fingers off the tracks.'),
  ]
}
