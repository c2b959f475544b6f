/** A difference of a variant as a sentence. */
import { deckCalled } from '../../solver/index.ts'
import type { Difference } from '../model/edit-variants.ts'
import type { Project } from '../model/index.ts'
import { words } from '../words/index.ts'

const text = words.variants.differs

/** A deck of the project as people know it. */
export const deckOf = ({ decks }: Pick<Project, 'decks'>, id: string): string =>
  deckCalled(decks.find((d) => d.id === id) ?? { id })

export function sentenceOf(project: Pick<Project, 'decks'>, d: Difference): string {
  const deck = (id: string): string => deckOf(project, id)
  switch (d.kind) {
    case 'field': {
      const value = (v: unknown): unknown => (d.field === 'decks' && Array.isArray(v) ? v.map(deck) : v)
      const entry = d.list === 'decks' ? deck(d.entry) : d.entry
      return words.variants.difference(d.list, entry, d.field, value(d.is), value(d.was))
    }
    case 'setting':
      return words.variants.setting(d.field, d.is, d.was)
    case 'out':
      return text.out(d.list, d.list === 'drop' ? deck(d.entry) : d.entry)
    case 'wire-out':
      return text.wireOut(d.entry)
  }
}
