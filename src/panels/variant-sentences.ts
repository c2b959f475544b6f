/** A difference of a variant as a sentence. */
import type { Difference } from '../model/edit-variants.ts'
import { words } from '../words/index.ts'

const text = words.variants.differs

export function sentenceOf(d: Difference): string {
  switch (d.kind) {
    case 'field':
      return words.variants.difference(d.list, d.entry, d.field, d.is, d.was)
    case 'setting':
      return words.variants.setting(d.field, d.is, d.was)
    case 'out':
      return text.out(d.list, d.entry)
    case 'wire-out':
      return text.wireOut(d.entry)
  }
}
