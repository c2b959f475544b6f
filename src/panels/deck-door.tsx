/** The button that opens the deck workshop, and the workshop while it is open. Fetched when it is first wanted. */
import { lazy, Suspense } from 'react'
import { useStore } from 'zustand'
import { deckDoor, leaveDecks, openDecks } from '../store/deck-door.ts'
import { words } from '../words/index.ts'

const DeckWorkshop = lazy(() => import('./deck-workshop.tsx'))

export function DeckDoor() {
  const open = useStore(deckDoor, (s) => s.open)
  return (
    <>
      <button type="button" onClick={openDecks}>
        {words.deck.open}
      </button>
      {open && (
        <Suspense fallback={<p className="unseen">{words.deck.loading}</p>}>
          <DeckWorkshop onClose={leaveDecks} />
        </Suspense>
      )}
    </>
  )
}
