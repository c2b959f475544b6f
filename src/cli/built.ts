import { oneOf, snippet } from '../../footprints/problems.ts'
import { check, deckCalled } from '../../solver/index.ts'
import { addsFewest, built, type Edited, type EditProblem, moveHole, newHoles, type Project } from '../model/index.ts'
import { type Form, type Given, readArgs, usageOf } from './args.ts'
import { BadInput, together } from './bad-input.ts'
import { filesFrom, findingLines, type Laid, problemOf, projectFrom, projectText } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'
import { countLines } from './reuse.ts'

export const form: Form = {
  command: 'built',
  about:
    'Prints the project with what a legal layout asked for, once it is drilled and cut, as holes and openings of its decks, so\nthat further layouts reuse them. Without LAYOUT, only holes that came out elsewhere are moved. Exit code 0: done;\n1: the layout breaks a rule, and nothing is written; 2: bad input.',
  operands: ['FILE'],
  more: ['LAYOUT'],
  options: {
    deck: { value: 'ID', about: 'only this deck was made' },
    move: {
      value: 'HOLE=X,Y[,DIAMETER]',
      many: true,
      about: 'where a hole really is, in mm, and how wide it came out: built-3=40.2,19.9 or built-3=40.2,19.9,3.5',
    },
    out: { value: 'F', about: 'the file to write instead of standard output; it may be FILE itself' },
  },
}

interface Move {
  readonly hole: string
  readonly at: readonly [number, number]
  readonly diameter: number | undefined
}

/** `built FILE LAYOUT`: 0 done, 1 the layout is not legal. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const [file, layoutFile] = given.operands as [string, string?]
  if (layoutFile === undefined && !given.has('move')) {
    throw new BadInput([
      'LAYOUT: found nothing, expected a layout file, or --move HOLE=X,Y for holes that are there already',
      `usage: ${usageOf(form)}`,
    ])
  }
  const out = given.text('out') === '-' ? undefined : given.text('out')
  const warn = warner(io, false)
  const say = (w: string) => io.err(`warning: ${w}`)
  const files = layoutFile === undefined ? undefined : filesFrom(file, [layoutFile], warn, say)
  const [moves, before, laid] = together(
    () => movesOf(given.texts('move')),
    files ? files.project : () => projectFrom(file, warn),
    () => files?.laid[0](),
    // The project itself may be written over: it is read whole before.
    () => out !== undefined && checkWritable('--out', out, layoutFile === undefined ? [] : [layoutFile]),
  )
  if (laid && laid.findings.length > 0) {
    io.err('The layout breaks rules, so nothing is written:')
    for (const line of findingLines(laid.findings)) io.err(line)
    return 1
  }
  const lines: string[] = []
  let project = before
  if (laid) {
    const done = taken(built(project, laid.problem, laid.placements, given.text('deck')), 'LAYOUT')
    project = done.project
    for (const { deck, holes, openings } of done.added)
      lines.push(`${nameOf(before, deck)}: added ${[...holes, ...openings].join(', ')}`)
    if (done.added.length > 0 && addsFewest(laid.problem.objective))
      lines.push(`objective: added new-holes, so that the next layout needs few more: ${project.objective!.join(', ')}`)
    if (done.added.length === 0) lines.push('nothing to add: all that this layout asks for is there already')
  }
  const moved = (move: Move) => (): void => {
    const deck = deckOf(project, move.hole, given)
    const was = holesOf(project, deck).find((h) => h.id === move.hole)
    project = taken(moveHole(project, deck, move.hole, move.at, move.diameter), '--move').project
    const is = holesOf(project, deck).find((h) => h.id === move.hole)!
    lines.push(`${nameOf(before, deck)}: ${move.hole} moved from ${place(was!)} to ${place(is)}`)
  }
  together(...moves.map(moved))
  const text = projectText(project, file, warn)
  const after = laid && again(project, laid)
  if (out === undefined) io.out(text)
  else writeWhole([{ file: out, text }])
  for (const line of [...lines, ...(after ?? [])]) io.err(line)
  return 0
}

const nameOf = ({ decks }: Project, id: string): string => deckCalled(decks.find((d) => d.id === id) ?? { id })

/** What the same layout finds in the changed decks. */
function again(project: Project, { problem, placements }: Laid): string[] {
  const now = problemOf(project, problem.variant)
  const findings = check(now, placements)
  const counts = countLines(now, newHoles(now, placements)).map((line) => `same layout again, ${line}`)
  if (findings.length === 0) return counts
  return [
    ...counts,
    'On the deck as it is now, this layout breaks rules, so the project is to be solved again:',
    ...findingLines(findings),
  ]
}

interface Hole {
  readonly id: string
  readonly at: readonly number[]
  readonly diameter: number
}

const place = ({ at, diameter }: Hole): string => `(${at.join(', ')}), ${diameter} mm wide`

/** The holes of a deck, those that only a variant's version of it has behind the others. */
function holesOf(project: Project, deck: string): Hole[] {
  const own = project.decks.find((d) => d.id === deck)?.holes ?? []
  const more = (project.variants ?? []).flatMap((v) =>
    v.decks && Object.hasOwn(v.decks, deck) ? (v.decks[deck]!.holes ?? []) : [],
  )
  return [...own, ...more]
}

/** The deck that has the hole. Throws BadInput where none has, or where more than one has and nobody says which. */
function deckOf(project: Project, hole: string, given: Given): string {
  const asked = given.text('deck')
  if (asked !== undefined) return asked
  const decks = project.decks.map((d) => d.id)
  const having = decks.filter((d) => holesOf(project, d).some((h) => h.id === hole))
  if (having.length > 1) {
    throw new BadInput([
      `--deck: found nothing, expected one of ${having.join(', ')}: each has a hole ${snippet(hole)}`,
    ])
  }
  if (having[0] !== undefined) return having[0]
  const ids = decks.flatMap((d) => holesOf(project, d).map((h) => h.id))
  const expected = ids.length === 0 ? 'a hole of a deck; there is none' : oneOf([...new Set(ids)], hole)
  throw new BadInput([`--move: found ${snippet(hole)}, expected ${expected}`])
}

const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)`
const MOVE = new RegExp(`^(.+)=(${NUMBER}),(${NUMBER})(?:,(${NUMBER}))?$`, 's')

function movesOf(texts: readonly string[]): Move[] {
  const problems: string[] = []
  const moves = texts.flatMap((text): Move[] => {
    const [, hole, x, y, diameter] = MOVE.exec(text) ?? []
    if (hole !== undefined) {
      return [{ hole, at: [Number(x), Number(y)], diameter: diameter === undefined ? undefined : Number(diameter) }]
    }
    problems.push(`--move: found ${snippet(text)}, expected HOLE=X,Y or HOLE=X,Y,DIAMETER in mm like built-3=40.2,19.9`)
    return []
  })
  const twice = moves.find((m, i) => moves.findIndex((n) => n.hole === m.hole) < i)
  if (twice) problems.push(`--move: found ${snippet(twice.hole)} twice, expected it once`)
  if (problems.length > 0) throw new BadInput(problems)
  return moves
}

/** The edit, or BadInput. `deck` is an option; all else belongs to `option`. */
function taken<T extends object>(edited: Edited<T>, option: string): Extract<Edited<T>, { ok: true }> {
  if (edited.ok) return edited
  const line = ({ path, found, expected }: EditProblem): string =>
    `${path === 'deck' ? '--deck' : option}: found ${found}, expected ${expected}`
  throw new BadInput(edited.problems.map(line))
}
