/** Room that is kept for later parts: kept or released in one click, with what the other way came to. */
import { useMemo } from 'react'
import { copyVariant, type Room, roomsOf, withRoom } from '../model/edit-variants.ts'
import { knownOf, soundFigures } from '../store/compare.ts'
import { words } from '../words/index.ts'
import { useActions, useDeck, useDeckwright } from './use.ts'
import { differenceOf, looksSame } from './variant-figures.ts'
import type { useEdit } from './variant-use.ts'

const text = words.variants.room
type Edit = ReturnType<typeof useEdit>['edit']

/** What it would come to the other way, as a sentence. */
function useCost(variant: string, room: Room): { readonly sentence: string; readonly never: boolean } {
  const { store } = useDeckwright()
  const known = useDeck((s) => s.known)
  const history = useDeck((s) => s.history)
  const trials = useDeck((s) => s.trials)
  const project = useDeck((s) => s.history.doc.project)
  // One object for as long as it is the same, so that what it asks is worked out once.
  const otherWay = useMemo(() => withRoom(project, variant, room, !room.kept), [project, variant, room])
  // biome-ignore lint/correctness/useExhaustiveDependencies: these are all of the state that is looked at
  return useMemo(() => {
    const state = store.getState()
    const { doc } = state.history
    const other = knownOf(state, otherWay, variant)
    if (other.kind === 'cannot') return { sentence: text.cannot(room.kept), never: false }
    if (other.kind === 'looking') return { sentence: text.looking(room.kept), never: false }
    if (other.kind === 'never') return { sentence: text.never, never: true }
    // What is held has a price of its own: the best of both is compared, and only without one the layout on show.
    const best = knownOf(state, doc.project, variant)
    const shown = soundFigures(
      state,
      doc.sheets.findIndex((s) => s.variant === variant),
    )
    const mine = best.kind === 'solved' ? best.figures : shown
    if (!mine) return { sentence: text.unsound, never: false }
    const proven = other.proven && best.kind === 'solved' && best.proven
    const onShow = shown !== undefined && looksSame(shown, mine)
    return { sentence: text.cost(room.kept, differenceOf(other.figures, mine), proven, onShow), never: false }
  }, [store, known, history, trials, variant, room, otherWay])
}

function OneRoom({ variant, room, edit }: { variant: string; room: Room; edit: Edit }) {
  const { store } = useDeckwright()
  const actions = useActions()
  const { sentence, never } = useCost(variant, room)
  const what = room.kind === 'zone' ? text.zone(room.id, room.why) : text.item(room.id)
  const another = (): void => {
    const { project } = store.getState().history.doc
    const copy = copyVariant(project, variant)
    if (!edit(() => withRoom(copy.project, copy.id, room, !room.kept))) return
    actions.choose(store.getState().history.doc.sheets.findIndex((s) => s.variant === copy.id))
  }
  return (
    <li className={room.kept ? 'later-room is-kept' : 'later-room'}>
      <p>
        {room.kept ? text.kept(what) : text.released(what)} {sentence}
      </p>
      <div className="group">
        <button
          type="button"
          className="small-quiet"
          aria-label={room.kept ? text.releaseOf(what) : text.keepOf(what)}
          onClick={() => edit((p) => withRoom(p, variant, room, !room.kept), 'anew')}
        >
          {room.kept ? text.release : text.keep}
        </button>
        {never && (
          <button type="button" className="small-quiet" aria-label={text.bothOf(what)} onClick={another}>
            {text.both}
          </button>
        )}
      </div>
    </li>
  )
}

export function Rooms({ variant, edit }: { variant: string; edit: Edit }) {
  const project = useDeck((s) => s.history.doc.project)
  const rooms = useMemo(() => roomsOf(project, variant), [project, variant])
  if (rooms.length === 0) return null
  return (
    <ul className="later-rooms" aria-label={text.title}>
      {rooms.map((room) => (
        <OneRoom key={`${room.kind} ${room.id}`} variant={variant} room={room} edit={edit} />
      ))}
    </ul>
  )
}
