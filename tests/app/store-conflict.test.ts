/** A conflict of many members is told in few sentences, and nothing of it is lost. */
import { expect, it } from 'vitest'
import { type ConflictMember, mm, type Problem } from '../../solver/index.ts'
import { asked } from '../../solver/words-asked.ts'
import { conflictLines } from '../../src/store/conflict.ts'
import { files, project, text } from './store-sample.ts'

function sample(): Problem {
  const opened = files.open(text({ ...project, variants: [] }), 'm.json')
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
  return opened.doc.sheets[0]!.problem
}

const one = (rule: string, sentence: (item: string) => string, ids: readonly string[]): ConflictMember[] =>
  ids.map((id) => ({ rule, items: [id], text: sentence(id) }))

const two = (rule: string, pairs: readonly (readonly [string, string])[]): ConflictMember[] =>
  pairs.map(([a, b]) => ({ rule, items: [a, b], text: asked.apart(a, b, mm(2)) }))

const inside = {
  decks: ['main deck'],
  edge: mm(1.5),
  openings: [{ id: 'slot', far: mm(1.5) }],
  over: { front: mm(0), back: mm(0), left: mm(0), right: mm(0) },
}
const dropped = {
  kind: 'drop-in',
  below: mm(5),
  cutout: { x: mm(0), y: mm(0), w: mm(9), h: mm(9) },
  holes: [],
} as const
const screwed = { kind: 'screw', standoff: mm(5), holes: [] } as const

it('what is asked of several items alike is one sentence', () => {
  const lines = conflictLines(sample(), [
    ...one('R4', asked.placed, ['one', 'two', 'board']),
    ...one('R1', (id) => asked.inside(id, inside), ['one', 'two']),
    ...two('R2', [
      ['one', 'two'],
      ['one', 'board'],
      ['two', 'board'],
      ['one', 'peg'],
    ]),
    { rule: 'R10', items: ['peg'], text: asked.centred('peg', 'x') },
  ])
  expect(lines.map((l) => l.text)).toEqual([
    'one and two must each lie on main deck, at least 1.5 mm from the edge and from the opening slot.',
    'Any two of one, two and board must stand at least 2 mm apart.',
    'one and peg must stand at least 2 mm apart.',
    'peg must stand in the middle from left to right.',
    'one, two and board must each be placed.',
  ])
  expect(lines.map((l) => l.items)).toEqual([
    ['one', 'two'],
    ['one', 'two', 'board'],
    ['one', 'peg'],
    ['peg'],
    ['one', 'two', 'board'],
  ])
})

it('what is asked of one alone, with another number, or in words that say it of no other, stands as it is', () => {
  const problem = sample()
  const members: ConflictMember[] = [
    ...one('R4', asked.placed, ['one']),
    { rule: 'R10', items: ['one'], text: 'one must be within 4 mm of the front edge' },
    { rule: 'R10', items: ['two'], text: 'two must be within 5 mm of the front edge' },
    { rule: 'R7', items: ['link'], text: asked.wireWay('link', 'one', 'two') },
    ...one('R5', (id) => asked.holes(id, screwed, mm(1), []), ['one', 'two']),
  ]
  expect(conflictLines(problem, members).map((l) => l.text)).toEqual([
    'one must be within 4 mm of the front edge.',
    'two must be within 5 mm of the front edge.',
    'Wire link must find a way from the deck of one to that of two.',
    'The holes of one and two must each keep 1 mm of deck all around.',
    'one must be placed.',
  ])
})

it('what is asked of one and each of several others is one sentence, however they are put', () => {
  const others = ['two', 'board', 'peg']
  const pair = (rule: string, sentence: (item: string) => string) =>
    others.map((id) => ({ rule, items: ['one', id], text: sentence(id) }))
  const corridors = [{ id: 'usb', why: 'plug, and its cable' }]
  const lines = conflictLines(sample(), [
    ...pair('R2', (id) => asked.apart('one', id, mm(0))),
    ...pair('R3', (item) => asked.corridors([{ item, owner: 'one', corridors }])),
    ...pair('R9', (id) => asked.swing('one', id, mm(34))),
    ...pair('R5', (id) => asked.holesApart('one', dropped, id, screwed, mm(1))),
    ...pair('R5', (id) => asked.holesApart('one', screwed, id, screwed, mm(1))),
  ])
  expect(lines.map((l) => l.text)).toEqual([
    'one and each of two, board and peg must not overlap.',
    'two, board and peg must each stay out of the corridor usb (plug, and its cable) of one.',
    'one must swing free of two, board and peg within 34 mm of its pivot.',
    'The cut-out of one and the holes of each of two, board and peg must keep 1 mm of deck between them.',
    'The holes of one and each of two, board and peg must keep 1 mm of deck between them.',
  ])
  for (const l of lines) expect([...l.items].sort()).toEqual(['board', 'one', 'peg', 'two'])
})
