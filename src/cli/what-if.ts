/** `what-if FILE`: what would have to be different, and what else there is. */
import type { Problem, WhatIfOptions } from '../../solver/index.ts'
import { addingOne, differing, sizing, trading } from '../../solver/index.ts'
import { MOST_BODIES } from '../model/asked.ts'
import type { Project } from '../model/index.ts'
import { MOST_COPIES } from '../model/schema.ts'
import { limitsOf as limitRules } from '../worker/rules.ts'
import { type Form, type Given, readArgs } from './args.ts'
import { BadInput, one, together } from './bad-input.ts'
import { problemOf, projectFrom, variantsAsked } from './input.ts'
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
  const question = questionOf(given)
  const since = performance.now()
  const [seconds0, steps0, [problem, ask]] = together(
    () => given.number('time', seconds, 0, MOST_SECONDS),
    () => given.number('steps', 'a whole number', 1, Number.MAX_SAFE_INTEGER, true),
    () => {
      const project = projectFrom(given.operands[0]!, warner(io, false))
      const id = given.text('variant')
      const variant = variantsAsked(project, id === undefined ? undefined : [id], '--variant')[0]!
      const problem = problemOf(project, variant.id)
      return [problem, asking(question, given, project, problem)] as const
    },
  )
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

/** The question with everything that is wrong with it found first. Throws BadInput. */
function asking(question: (typeof QUESTIONS)[number], given: Given, project: Project, problem: Problem): Ask {
  switch (question) {
    case 'smallest-deck': {
      const deck = given.text('deck')
      const [way] = together(
        () => one(WAYS, given.text('smallest-deck')!, '--smallest-deck'),
        () =>
          deck === undefined
            ? deck
            : one(
                problem.decks.map((d) => d.id),
                deck,
                '--deck',
              ),
      )
      const more = { all: given.has('all'), ...(deck === undefined ? {} : { deck }) }
      return async (l) => smallestAnswer(project, problem, way, await toEnd(sizing(problem, way, { ...l, ...more })))
    }
    case 'one-more': {
      const item = one([...new Set(problem.items.map((i) => i.base))], given.text('one-more')!, '--one-more')
      const copies = problem.items.filter((i) => i.base === item).length
      if (copies >= MOST_COPIES || problem.items.length >= MOST_BODIES)
        throw new BadInput([
          `--one-more: found ${copies} ${item} among ${problem.items.length} bodies, expected fewer than ${MOST_COPIES} of one and ${MOST_BODIES} in all`,
        ])
      return async (l) => oneMoreAnswer(project, problem, await toEnd(addingOne(problem, item, l)))
    }
    case 'trade-offs':
      return async (l) => tradeAnswer(problem, await toEnd(trading(problem, l)))
    case 'different': {
      const [count, percent] = together(
        () => given.number('different', 'a whole number', 1, MOST_LAYOUTS, true)!,
        () => given.number('slack', 'a number of percent', 0, 1000) ?? 0,
      )
      const slack = percent / 100
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
