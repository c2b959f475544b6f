/** The user's own note on a card, typed in place; one note is one step of history. */
import { useEffect, useState } from 'react'
import { noteOf, withNote } from '../model/edit-variants.ts'
import { words } from '../words/index.ts'
import { useDeck } from './use.ts'
import { useEdit } from './variant-use.ts'

export function Note({ variant }: { variant: string }) {
  const kept = useDeck((s) => noteOf(s.history.doc.project, variant))
  const [text, setText] = useState(kept)
  const { edit } = useEdit()
  useEffect(() => setText(kept), [kept])
  const keep = (): void => {
    if (text.trim() === kept) setText(kept)
    else edit((p) => withNote(p, variant, text))
  }
  return (
    <input
      className="card-note"
      aria-label={words.variants.card.note(variant)}
      placeholder={words.variants.card.noteHere}
      maxLength={200}
      value={text}
      onChange={(event) => setText(event.target.value)}
      onBlur={keep}
      onKeyDown={(event) => {
        if (event.key === 'Enter') keep()
        if (event.key === 'Escape') setText(kept)
      }}
    />
  )
}
