/** What copies are called where people read of them. */
import { expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { pdfPages } from '../../src/export/pdf.ts'
import { plainIn } from '../../src/model/called.ts'
import { readProject, toProblem } from '../../src/model/index.ts'
import { reading } from '../export/pdf-read.ts'

const library = loadLibrary()
const project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'Rover#2',
  decks: [{ id: 'main', name: 'plate#7', z: 50, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
  items: [
    { id: 'board', footprint: 'breadboard-170', count: 12 },
    { id: 'my lamp', footprint: 'humidity-board', count: 2 },
  ],
}
const read = readProject(JSON.stringify(project), 'rover.json', library)
if (!read.ok) throw new Error('the project can be read')
const problem = toProblem(read.value, 'base', library)

it('are copies of items alone: what else has the sign keeps it', () => {
  const named = plainIn([problem])
  expect(named('board#1 and board#12, my lamp#2.')).toBe('board 1 and board 12, my lamp 2.')
  // Names of a project, of a deck, and one that only ends as an item does.
  expect(named('Rover#2: plate#7, keyboard#1, #3')).toBe('Rover#2: plate#7, keyboard#1, #3')
  // In another variant there are more.
  expect(named('board#40')).toBe('board 40')
})

it('are so on paper too', async () => {
  const board = { item: 3, deck: 0, at: { x: 0, y: 0 }, turn: 0 } as never
  await reading(await pdfPages(problem, [board], { parts: ['template', 'assembly'] }), async (pages) => {
    const text = pages.map((p) => p.text).join(' ')
    expect(text).toContain('Rover#2')
    expect(text).toMatch(/plate#7/i)
    expect(text).toContain('board 4')
    expect(text).not.toContain('board#')
  })
})
