/**
 * The first power: pack after pack, then regulator after regulator. Whatever is connected has its switches off, and of supplies that would
 * meet only one is on at a time. Common practice, no source.
 */
import { cellVolts, type Part, type PowerModel } from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'
import { type Step, step } from './step.ts'
import { type Turn, turnsOf } from './turns.ts'
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
