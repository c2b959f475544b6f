/**
 * The first power: pack after pack, then regulator after regulator. Whatever is connected has its switches off, and of packs that would
 * meet only one is on at a time. Common practice, no source.
 */
import { cellVolts, onTheWay, type Part, type PowerModel, packsUnder } from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'
import { type Step, step } from './step.ts'
import { steps } from './words.ts'

const idOf = (p: Part): string => p.body.item.id

export function firstPower(model: PowerModel, facts: PowerFacts): Step[] {
  const packs = facts.supplies.filter((p) => facts.wired.has(p.item))
  const regulators = fedFirst(
    facts.regulators.filter((p) => facts.wired.has(p.item)),
    facts,
  )
  const volts = (p: Part) => p.power.output?.volts ?? cellVolts(p)
  const named = (names: readonly string[]) => names.map((name) => facts.ownSwitches.get(name) ?? name)
  const turns = turnsOf(model, facts, packs, regulators)
  return [
    ...packs.map((p, i) => {
      const [id, { off, on, stack }] = [idOf(p), turns.get(p)!]
      const all = stack.map(volts)
      const sum = all.every((v) => v !== undefined) ? all.reduce((a, b) => a + b, 0) : undefined
      const there = steps.measured(stack.map(idOf), sum)
      const text = i === 0 ? steps.connectFirst(id, on, there) : steps.connectNext(id, off, on, there)
      return step(text, [id, ...stack.map(idOf), ...named(off), ...named(on)])
    }),
    ...regulators.map((p) => {
      const [id, { on }] = [idOf(p), turns.get(p)!]
      return step(steps.measure(id, on, volts(p)), [id, ...named(on)])
    }),
  ]
}

/** Switches by name: what has to be off before a pack is connected, of what is on; and what is turned on with it, or behind a regulator. */
interface Turn {
  readonly off: readonly string[]
  readonly on: readonly string[]
  /** Packs in series of which it is the last to be connected; else it alone. */
  readonly stack: readonly Part[]
}

/** Packs in series are turned on as one: nothing flows until the last of them is there. What is in nobody's way goes with the first. */
function turnsOf(
  model: PowerModel,
  { switches, ownSwitches, ways }: PowerFacts,
  packs: readonly Part[],
  regulators: readonly Part[],
): ReadonlyMap<Part, Turn> {
  const wayOf = (list: readonly Part[]): string[] => {
    const there = new Set(
      list.flatMap((p) =>
        onTheWay(model, ways.get(p)!, 'switch').flatMap((by) => (ways.get(p)!.isOthers(by.item) ? [] : idOf(by))),
      ),
    )
    const own = new Set(list.map(idOf))
    return [
      ...switches.filter((id) => there.has(id)),
      ...[...ownSwitches].flatMap(([name, of]) => (own.has(of) ? [name] : [])),
    ]
  }
  const lowest = (p: Part) => packsUnder(model.conductors, p.item)[0]?.item ?? p.item
  const [ofPacks, ofAll] = [wayOf(packs), new Set(wayOf([...packs, ...regulators]))]
  const turns = new Map<Part, Turn>()
  let spare = switches.filter((id) => !ofAll.has(id))
  let on: readonly string[] = []
  for (const p of packs) {
    const stack = packs.filter((o) => lowest(o) === lowest(p))
    const isWhole = stack.at(-1) === p
    const way = isWhole ? wayOf(stack) : []
    const met = wayOf(isWhole ? [...turns.keys()].filter((o) => stack.some((s) => ways.get(o)!.meets(s.item))) : [])
    const off = on.filter((name) => way.includes(name) || met.includes(name))
    const turned = isWhole ? [...spare, ...way] : []
    turns.set(p, { off, on: turned, stack: isWhole ? stack : [p] })
    on = [...on.filter((name) => !off.includes(name)), ...turned]
    if (isWhole) spare = []
  }
  for (const p of regulators) {
    const way = wayOf([p]).filter((name) => !ofPacks.includes(name) && !on.includes(name))
    turns.set(p, { off: [], on: way, stack: [p] })
    on = [...on, ...way]
  }
  return turns
}

/** Whoever feeds another goes before it; else, and round a ring, as the project names them. */
function fedFirst(list: readonly Part[], { ways }: PowerFacts): Part[] {
  const left = [...list]
  const isFed = (p: Part) => left.some((o) => o !== p && ways.get(o)!.feeds(p.item))
  return list.map(() => {
    const next = Math.max(
      0,
      left.findIndex((p) => !isFed(p)),
    )
    return left.splice(next, 1)[0]!
  })
}
