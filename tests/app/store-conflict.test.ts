/** A conflict of many members is told in few sentences, and nothing of it is lost. */
import { expect, it } from 'vitest'
import type { ConflictMember, Problem } from '../../solver/index.ts'
import { asked } from '../../solver/words.ts'
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
  pairs.map(([a, b]) => ({ rule, items: [a, b], text: asked.apart(a, b) }))

it('what is asked of several items alike is one sentence', () => {
  const lines = conflictLines(sample(), [
    ...one('R4', asked.placed, ['one', 'two', 'board']),
    ...one('R1', asked.inside, ['one', 'two']),
    ...two('R2', [
      ['one', 'two'],
      ['one', 'board'],
      ['two', 'board'],
      ['one', 'peg'],
    ]),
    { rule: 'R10', items: ['peg'], text: asked.centred('peg', 'x') },
  ])
  expect(lines.map((l) => l.text)).toEqual([
    'one, two and board must each be placed.',
    'one and two must each lie on its deck, clear of the openings.',
    'Any two of one, two and board must stand apart.',
    'one and peg must stand apart.',
    'peg must stand in the middle from left to right.',
  ])
  expect(lines.map((l) => l.items)).toEqual([
    ['one', 'two', 'board'],
    ['one', 'two'],
    ['one', 'two', 'board'],
    ['one', 'peg'],
    ['peg'],
  ])
})

it('what is asked of one alone, with another number, or in words that say it of no other, stands as it is', () => {
  const problem = sample()
  const members: ConflictMember[] = [
    ...one('R4', asked.placed, ['one']),
    { rule: 'R10', items: ['one'], text: 'one must be within 4 mm of the front edge' },
    { rule: 'R10', items: ['two'], text: 'two must be within 5 mm of the front edge' },
    { rule: 'R7', items: ['link'], text: 'wire link must find a way from deck to deck' },
    ...one('R5', asked.holes, ['one', 'two']),
  ]
  expect(conflictLines(problem, members).map((l) => l.text)).toEqual([
    'one must be placed.',
    'one must be within 4 mm of the front edge.',
    'two must be within 5 mm of the front edge.',
    'Wire link must find a way from deck to deck.',
    'The holes of one need solid deck around them.',
    'The holes of two need solid deck around them.',
  ])
})
