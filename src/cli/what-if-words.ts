/** What-ifs answered in sentences, tables and JSON: no rule numbers, no status words for people. */
import type {
  DeckSize,
  DifferentResult,
  Figures,
  ObjectiveName,
  OneMore,
  Placement,
  Problem,
  SmallestDeck,
  TradeOffs,
} from '../../solver/index.ts'
import { applyChanges, changesText, deckCalled, figureOf, smallerText, toMm } from '../../solver/index.ts'
import { changeProject, figuresInFile, leftOut, type Project, placementsToFile } from '../model/index.ts'
import { amount, list } from './answers.ts'
import { toFile } from './loosened.ts'
import { aligned } from './table.ts'

export interface Said {
  readonly text: readonly string[]
  readonly table?: readonly string[]
  readonly json: Readonly<Record<string, unknown>>
  readonly code: 0 | 1 | 3
}

const TIME = 'No answer in this time; more time may find one.'

/** What was varied: each answer is of these sizes alone. */
const VARIED = { length: 'length', width: 'width', both: 'size of the same proportion' }

/** `all`: optional items were to fit too. */
export function smallestAnswer(
  project: Project,
  problem: Problem,
  way: keyof typeof VARIED,
  all: boolean,
  r: SmallestDeck,
): Said {
  const from = sizeInFile(r.from)
  const required = all || problem.items.every((i) => i.required) ? '' : ' required'
  const deck = deckCalled(problem.decks.find((d) => d.id === r.deck)!)
  switch (r.status) {
    case 'unknown':
      return { text: [TIME], json: { answer: 'unknown', deck: r.deck, from }, code: 3 }
    case 'no such size': {
      const text = [
        `${deck.charAt(0).toUpperCase()}${deck.slice(1)} is round, so it has no far edge that could be moved.`,
      ]
      return { text, json: { answer: 'none', deck: r.deck, from }, code: 1 }
    }
    case 'none': {
      const text = [`Not everything${required} fits on ${deck} at any ${VARIED[way]} up to ${sizeText(r.upTo)}.`]
      return { text, json: { answer: 'none', deck: r.deck, from, upTo: sizeInFile(r.upTo) }, code: 1 }
    }
    case 'found': {
      const changed = applyChanges({ problem, pins: [] }, r.changes).problem
      const change =
        r.changes.length === 0
          ? `Everything${required} fits on ${deck} as it is, ${sizeText(r.to)}.`
          : `Everything${required} fits on ${deck} of ${sizeText(r.to)}. ${changesText(r.changes)}`
      return {
        text: [change, belowText(way, r)],
        json: {
          answer: 'found',
          deck: r.deck,
          from,
          to: sizeInFile(r.to),
          below: r.below,
          smallest: r.smallest,
          stops: r.stops,
          patch: changeProject(project, problem.variant, r.changes).patch,
          layout: layoutOfIt(changed, r.placements),
        },
        code: 0,
      }
    }
  }
}

function belowText(way: keyof typeof VARIED, r: Extract<SmallestDeck, { status: 'found' }>): string {
  switch (r.below) {
    case 'open':
      return 'Whether 1 mm less would do is not known yet.'
    case 'stopped':
      return r.stops.length === 0
        ? 'With 1 mm less the outline would not keep its form.'
        : `With 1 mm less, ${list(r.stops)} would no longer lie on it.`
    case 'proven':
      return r.smallest
        ? `No smaller ${VARIED[way]} does: that is proven, in steps of 1 mm.`
        : '1 mm less is proven not to do; of still smaller sizes not all were tried.'
  }
}

export function oneMoreAnswer(project: Project, problem: Problem, r: OneMore): Said {
  const head = { item: r.item }
  switch (r.status) {
    case 'unknown':
      return { text: [TIME], json: { answer: 'unknown', ...head }, code: 3 }
    case 'infeasible': {
      const text = [`Not even what is asked for fits, so one more ${r.item} has to wait.`]
      return { text, json: { answer: 'none', ...head, conflict: r.conflict }, code: 1 }
    }
    case 'fits': {
      const changed = applyChanges({ problem, pins: [] }, r.before).problem
      const out = leftOut(changed, r.placements)
      const without = out.length === 0 ? '' : `, in a layout without ${list(out)}`
      return {
        text: [`One more ${r.item} fits as things stand: ${r.placed + 1} in all${without}.`],
        json: {
          answer: 'fits',
          ...head,
          placed: r.placed,
          patch: changeProject(project, problem.variant, r.before).patch,
          layout: layoutOfIt(changed, r.placements),
        },
        code: 0,
      }
    }
    case 'needs': {
      const grown = applyChanges({ problem, pins: [] }, r.before).problem
      const file = changeProject(project, problem.variant, r.before)
      const most = r.placed === 1 ? `No more than 1 ${r.item} fits` : `No more than ${r.placed} ${r.item} fit`
      const ways = r.loosenings.map((l) =>
        `  ${l.text} ${l.least ? smallerText(l.changes) : '(Less may do.)'}`.trimEnd(),
      )
      const none = r.complete
        ? 'No single change of those that matter, and no two together, make room for one more.'
        : 'No change that makes room for one more was found, but not all were tried to their end; more time may find one.'
      return {
        text: [`${most} as things stand.`, ...(ways.length === 0 ? [none] : ['One more fits with any one of these:'])],
        ...(ways.length === 0 ? {} : { table: ways }),
        json: {
          answer: 'needs',
          ...head,
          placed: r.placed,
          patch: file.patch,
          loosenings: r.loosenings.map((l) => toFile(file.project, grown, l)),
          complete: r.complete,
          conflict: r.conflict,
          ...(r.conflictIrreducible ? {} : { conflictIrreducible: false }),
        },
        code: ways.length > 0 ? 0 : r.complete ? 1 : 3,
      }
    }
  }
}

const heads: Readonly<Record<ObjectiveName, string>> = {
  'free-tie-points': 'free contacts',
  'optional-value': 'optional value',
  'new-holes': 'new holes',
  'wire-length': 'conductor',
  balance: 'off balance',
}

export function tradeAnswer(problem: Problem, r: TradeOffs): Said {
  if (r.status !== 'found') return none(r.status)
  const rows = r.layouts.map((l, i) => [
    String(i + 1),
    ...r.figures.map((f) => figure(f, l.figures)),
    l.proven ? 'proven' : 'not proven',
  ])
  const text =
    r.layouts.length === 1
      ? ['One layout is best in all of these at once, as far as was found.']
      : [`${r.layouts.length} layouts, of which none beats another. There may be more between them.`]
  const why = 'Proven: no layout is better in one of these and no worse in the rest.'
  const legend = r.layouts.some((l) => l.proven) ? ['', why] : []
  return {
    text: [...text, ...(r.complete ? [] : ['Not every solve ran to its proof in this time.'])],
    table: [...aligned([['', ...r.figures.map((f) => heads[f]), 'unbeaten'], ...rows]), ...legend],
    json: {
      answer: 'found',
      figures: r.figures,
      complete: r.complete,
      layouts: r.layouts.map((l) => ({
        ...figuresInFile(l.figures),
        proven: l.proven,
        layout: layoutOfIt(problem, l.placements),
      })),
    },
    code: 0,
  }
}

export function differentAnswer(problem: Problem, r: DifferentResult): Said {
  if (r.status !== 'found') return none(r.status)
  const [first] = r.layouts
  const names = problem.objective.filter((n) => n !== 'balance' || first?.figures.balance !== undefined)
  const rows = r.layouts.map((l, i) => [
    String(i + 1),
    ...names.map((n) => figure(n, l.figures)),
    i === 0 ? '–' : `${(l.distance / 1000).toFixed(0)} mm`,
    l.atMost === undefined ? '–' : `${(Math.max(l.atMost, l.distance) / 1000).toFixed(0)} mm`,
  ])
  const more = r.layouts.length - 1
  const text = r.exhausted
    ? `${more === 0 ? 'No' : `${more}`} other layout${more === 1 ? '' : 's'} with these figures; any further one has every item where one of these has it, or where one like it stands.`
    : more === 0
      ? 'No other layout with these figures was found in this time.'
      : `${more} other layout${more === 1 ? '' : 's'} with these figures.`
  return {
    text: [text, ...(r.best ? [] : ['Whether the first layout is the best there is was not proven in this time.'])],
    table: [
      ...aligned([['', ...names.map((n) => heads[n]), 'moved', 'at most'], ...rows]),
      '',
      'Moved: along x and along y over all items, against the most similar layout above; an item on another deck, or in one of the two only, counts a deck’s length and width more.',
      ...(r.layouts.some((l) => l.atMost !== undefined)
        ? ['At most: proven that no layout with these figures is moved farther than this against every one above.']
        : []),
    ],
    json: {
      answer: 'found',
      best: r.best,
      exhausted: r.exhausted,
      layouts: r.layouts.map((l) => ({
        ...figuresInFile(l.figures),
        distance: l.distance / 1000,
        ...(l.atMost === undefined ? {} : { atMost: Math.max(l.atMost, l.distance) / 1000 }),
        layout: layoutOfIt(problem, l.placements),
      })),
    },
    code: 0,
  }
}

function none(status: 'infeasible' | 'unknown'): Said {
  if (status === 'unknown') return { text: [TIME], json: { answer: 'unknown' }, code: 3 }
  return { text: ['What is asked for cannot fit; solve tells why.'], json: { answer: 'none' }, code: 1 }
}

/** Enough of a layout file for `check` and `export`. */
const layoutOfIt = (problem: Problem, placements: readonly Placement[]) => ({
  format: 'deckwright-layout',
  version: 1,
  variant: problem.variant,
  placements: placementsToFile(problem, placements),
  leftOut: leftOut(problem, placements),
})

const figure = (name: ObjectiveName, f: Figures): string => amount(name, figureOf(name, f))

const sizeInFile = (s: DeckSize) => ({ length: toMm(s.length), width: toMm(s.width) })
const sizeText = (s: DeckSize): string => `${toMm(s.length)} mm length and ${toMm(s.width)} mm width`
