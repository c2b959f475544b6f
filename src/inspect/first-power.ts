/**
 * The first power: pack after pack, then regulator after regulator. Whatever is connected has its switches off, and of supplies that would
 * meet only one is on at a time. Common practice, no source.
 */
import { cellVolts, idOf, type Part, type PowerModel, padKey, padsOf } from '../electric/index.ts'
import { gives, type PowerFacts } from './facts.ts'
import { type Step, step } from './step.ts'
import { type Turn, turnsOf } from './turns.ts'
import { steps } from './words.ts'

export function firstPower(model: PowerModel, facts: PowerFacts): Step[] {
  const packs = facts.supplies.filter((p) => facts.wired.has(p.item))
  const regulators = fedFirst(
    facts.regulators.filter((p) => facts.wired.has(p.item)),
    facts,
  )
  const volts = (p: Part) => (p.power.output ? madeVolts(model, p, p.power.output.volts) : cellVolts(p))
  const named = (names: readonly string[]) => names.map((name) => facts.ownSwitches.get(name) ?? name)
  const turns = turnsOf(model, facts, packs, regulators)
  const sum = (stack: readonly Part[]) => {
    const all = stack.map(volts)
    return all.every((v) => v !== undefined) ? all.reduce((a, b) => a + b, 0) : undefined
  }
  const toldBy = (p: Part, { apart, off, again, before, on, stacks }: Turn) => [
    idOf(p),
    ...stacks.flat().map(idOf),
    ...apart,
    ...again,
    ...named([...off, ...before, ...on]),
  ]
  return [
    ...packs.map((p, i) => {
      const turn = turns.get(p)!
      const there = turn.stacks.map((stack) => steps.measured(stack.map(idOf), sum(stack))).join(' ')
      const text = i === 0 ? steps.connectFirst(idOf(p), turn.on, there) : steps.connectNext(idOf(p), turn, there)
      return step(text, toldBy(p, turn))
    }),
    ...regulators.map((p) => {
      const turn = turns.get(p)!
      return step(steps.measure(idOf(p), turn, volts(p)), toldBy(p, turn))
    }),
  ]
}

/** Volts of a regulator's output, or of the one that is in use where it is another that says those; nothing where these differ. */
function madeVolts({ conductors }: PowerModel, p: Part, said: number): number | undefined {
  const outputs = padsOf(p.body.item.footprint).filter(gives)
  const isSaid = ({ volts }: (typeof outputs)[number]) => volts !== undefined && volts[0] <= said && said <= volts[1]
  const used = outputs.filter((pad) => conductors.places.has(padKey(p.item, pad)))
  const isOther = used.length > 0 && used.every((pad) => pad.volts && !isSaid(pad)) && outputs.some(isSaid)
  if (!isOther) return said
  const all = new Set(used.map(({ volts }) => (volts![0] + volts![1]) / 2))
  return all.size === 1 ? [...all][0] : undefined
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
