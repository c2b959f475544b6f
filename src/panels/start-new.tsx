/** A new deck by its size: width and depth as people type lengths. */
import { useState } from 'react'
import { openDecks } from '../store/deck-door.ts'
import { words } from '../words/index.ts'
import { useKeep } from './around.ts'
import { LengthField } from './length-field.tsx'
import { useActions } from './use.ts'

/** mm: from a plate that holds one small part to the largest that a desktop cutter takes. Common practice, no source. */
const LIMITS = { least: 20, most: 1000 }

export function StartNew() {
  const { newDeck } = useActions()
  const works = useKeep((s) => s.works)
  const [width, setWidth] = useState(160)
  const [depth, setDepth] = useState(120)
  const set = (take: (value: number) => void) => (value: number) => {
    take(value)
    return undefined
  }
  return (
    <form
      className="start-new"
      aria-labelledby="start-new"
      onSubmit={(event) => {
        event.preventDefault()
        // A number that cannot be taken says so beside its field.
        const wrong = event.currentTarget.querySelector<HTMLElement>('[aria-invalid=true]')
        wrong?.focus()
        if (wrong) return
        newDeck(
          width,
          depth,
          works.map((w) => w.name),
        )
        const by = (event.nativeEvent as SubmitEvent).submitter
        if (by instanceof HTMLButtonElement && by.value === 'shape') openDecks()
      }}
    >
      <LengthField label={words.start.width} value={width} limits={LIMITS} onChange={set(setWidth)} />
      <LengthField label={words.start.length} value={depth} limits={LIMITS} onChange={set(setDepth)} />
      <button type="submit">{words.start.make}</button>
      <button type="submit" value="shape">
        {words.deck.makeAndShape}
      </button>
    </form>
  )
}
