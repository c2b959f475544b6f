/** What the keys of an item do, as they are set now: read out with every item. */
import { useStore } from 'zustand'
import { keys } from '../store/key-map.ts'
import { words } from '../words/index.ts'

export function KeysNote({ id }: { readonly id: string }) {
  const map = useStore(keys().store)
  return (
    <p id={id} className="unseen">
      {words.plan.itemKeys(map)}
    </p>
  )
}
