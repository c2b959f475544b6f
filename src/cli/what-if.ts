/** `what-if FILE`: what would have to be different, and what else there is. */
import type { Problem, WhatIfOptions } from '../../solver/index.ts'
import { addingOne, differing, sizing, trading } from '../../solver/index.ts'
import { MOST_BODIES } from '../model/asked.ts'
import type { Project } from '../model/index.ts'
import { MOST_COPIES } from '../model/schema.ts'
import { limitsOf as limitRules } from '../worker/rules.ts'
import { type Form, type Given, readArgs } from './args.ts'
import { BadInput, one, together } from './bad-input.ts'
import { problemOf, variantFrom } from './input.ts'
import { type Io, warner } from './io.ts'
import { interrupts, limitsOf, toEnd } from './slices.ts'
import { MOST_SECONDS, seconds } from './solve.ts'
import { differentAnswer, oneMoreAnswer, type Said, smallestAnswer, tradeAnswer } from './what-if-words.ts'

export const form: Form = {
  command: 'what-if',
  about:
    'Asks one question about a variant. Deck length runs from back to front, width from left to right; the far edge moves, and\nwhat is cut through the deck stays. Exit code 0: an answer; 1: proven that there is none; 2: bad input; 3: the time ran out.',
  operands: ['FILE'],
  options: {
    'smallest-deck': {
      value: 'length|width|both',
      about: 'the smallest deck on which everything required fits; both: its sides in proportion',
    },
    'one-more': { value: 'ITEM', about: 'what one more copy of this item would take' },
    'trade-offs': { about: 'layouts between most free contacts, least wire and best balance, none beaten by another' },
    different: { value: 'N', about: 'up to N further layouts as good as the best, as different as can be found' },
    variant: { value: 'ID', about: 'which variant; default the first' },
    deck: { value: 'ID', about: 'with --smallest-deck: which deck; default the first' },
    all: { about: 'with --smallest-deck: optional items must fit too' },
    slack: { value: 'PERCENT', about: 'with --different: by how much wire and balance may be worse; default 0' },
    time: { value: 'S', about: 'seconds to take at most; default 30' },
    steps: { value: 'N', about: 'steps of the search to take at most, instead of time: the same answer every time' },
    json: { about: 'JSON instead of sentences, with layouts and patches of the project file' },
  },
}

const QUESTIONS = ['smallest-deck', 'one-more', 'trade-offs', 'different'] as const
/** Options that go with one question only. */
const GOES_WITH: Readonly<Record<string, (typeof QUESTIONS)[number]>> = {
  deck: 'smallest-deck',
  all: 'smallest-deck',
  slack: 'different',
}
const WAYS = ['length', 'width', 'both'] as const
const MOST_LAYOUTS = 50

/** 0 an answer, 1 proven that there is none, 3 neither in time. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const since = performance.now()
  const [seconds0, steps0, asked, { project, problem, named }] = together(
    () => given.number('time', seconds, 0, MOST_SECONDS),
    () => given.number('steps', 'a whole number', 1, Number.MAX_SAFE_INTEGER, true),
    () => askedOf(given),
    () => {
      const [project, variant] = variantFrom(given.operands[0]!, given.text('variant'), warner(io, false))
      const problem = problemOf(project, variant)
      return { project, problem, named: namedOf(given, problem) }
    },
  )
  const { question } = asked
  const ask = asking(asked, named, given, project, problem)
  const stop = interrupts()
  const { time, steps } = limitsOf({ time: seconds0, steps: steps0 }, since, 30)
  const said = await ask({
    ...(time === undefined ? {} : { time }),
    ...(steps === undefined ? {} : { steps }),
    signal: stop.signal,
    lazy: limitRules(problem),
  })
  stop.stop()
  if (given.has('json')) {
    const head = { project: problem.name, variant: problem.variant, question, text: said.text }
    const tail = { grid: problem.grid / 1000, seconds: Math.round(performance.now() - since) / 1000 }
    io.out(`${JSON.stringify({ ...head, ...said.json, ...tail }, null, 2)}\n`)
  } else io.out(`${[...said.text, ...(said.table ? ['', ...said.table] : [])].join('\n')}\n`)
  return said.code
}

type Ask = (limits: WhatIfOptions) => Promise<Said>

/** The question with its values. */
type Asked =
  | { readonly question: 'smallest-deck'; readonly way: (typeof WAYS)[number] }
  | { readonly question: 'one-more' | 'trade-offs' }
  | { readonly question: 'different'; readonly count: number; readonly slack: number }

/** Throws BadInput with all that is wrong with them, whatever the project is. */
function askedOf(given: Given): Asked {
  const [question, way, count, percent] = together(
    () => questionOf(given),
    () => (given.has('smallest-deck') ? one(WAYS, given.text('smallest-deck')!, '--smallest-deck') : 'length'),
    () => given.number('different', 'a whole number', 1, MOST_LAYOUTS, true) ?? 1,
    () => given.number('slack', 'a number of percent', 0, 1000) ?? 0,
  )
  switch (question) {
    case 'smallest-deck':
      return { question, way }
    case 'one-more':
    case 'trade-offs':
      return { question }
    case 'different':
      return { question, count, slack: percent / 100 }
  }
}

/** What the options name of the project. */
interface Named {
  readonly deck: string | undefined
  readonly item: string | undefined
}

/** Throws BadInput naming what is not there, or is as often as it may be. */
function namedOf(given: Given, problem: Problem): Named {
  const name = (option: string, all: readonly string[]): string | undefined => {
    const text = given.text(option)
    return text === undefined ? undefined : one([...new Set(all)], text, `--${option}`)
  }
  const decks = problem.decks.map((d) => d.id)
  const items = problem.items.map((i) => i.base)
  const [deck, item] = together(
    () => name('deck', decks),
    () => name('one-more', items),
  )
  const copies = items.filter((i) => i === item).length
  if (item !== undefined && (copies >= MOST_COPIES || items.length >= MOST_BODIES))
    throw new BadInput([
      `--one-more: found ${copies} ${item} among ${items.length} bodies, expected fewer than ${MOST_COPIES} of one and ${MOST_BODIES} in all`,
    ])
  return { deck, item }
}

function asking(asked: Asked, { deck, item }: Named, given: Given, project: Project, problem: Problem): Ask {
  switch (asked.question) {
    case 'smallest-deck': {
      const { way } = asked
      const all = given.has('all')
      const more = { all, ...(deck === undefined ? {} : { deck }) }
      return async (l) =>
        smallestAnswer(project, problem, way, all, await toEnd(sizing(problem, way, { ...l, ...more })))
    }
    case 'one-more':
      return async (l) => oneMoreAnswer(project, problem, await toEnd(addingOne(problem, item!, l)))
    case 'trade-offs':
      return async (l) => tradeAnswer(problem, await toEnd(trading(problem, l)))
    case 'different': {
      const { count, slack } = asked
      return async (l) => differentAnswer(problem, await toEnd(differing(problem, count, { ...l, slack })))
    }
  }
}

function questionOf(given: Given): (typeof QUESTIONS)[number] {
  const asked = QUESTIONS.filter((q) => given.has(q))
  const names = QUESTIONS.map((q) => `--${q}`)
  if (asked.length !== 1) {
    const found = asked.length === 0 ? 'no question' : asked.map((q) => `--${q}`).join(' and ')
    throw new BadInput([`found ${found}, expected one of ${names.join(', ')}`])
  }
  const question = asked[0]!
  const stray = Object.entries(GOES_WITH).filter(([o, q]) => given.has(o) && q !== question)
  if (stray.length > 0)
    throw new BadInput(stray.map(([o, q]) => `--${o}: found with --${question}, expected with --${q}`))
  return question
}
