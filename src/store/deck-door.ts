/** Whether the deck workshop is open: the start view, the head and whatever else leads there ask for it here. */
import { createStore } from 'zustand/vanilla'

export const deckDoor = createStore<{ readonly open: boolean }>(() => ({ open: false }))

export const openDecks = (): void => deckDoor.setState({ open: true })
export const leaveDecks = (): void => deckDoor.setState({ open: false })
