/** Which key does what, to be changed by pressing another. */
import { type KeyboardEvent, useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import { comboOf, type Deed, ITEM_DEEDS, keys, PLAN_DEEDS } from '../store/key-map.ts'
import { words } from '../words/index.ts'

export default function KeysDialog({ onClose }: { readonly onClose: () => void }) {
  const { store, bind, reset, kept } = keys()
  const map = useStore(store)
  const dialog = useRef<HTMLDialogElement>(null)
  const [waiting, setWaiting] = useState<Deed | undefined>(undefined)
  const [said, setSaid] = useState('')
  const p = words.plan

  useEffect(() => {
    dialog.current?.showModal()
  }, [])

  const lost = (): string => (kept() ? '' : ` ${p.keysNotKept}`)

  const press = (event: KeyboardEvent, deed: Deed): void => {
    if (waiting !== deed) return
    const combo = comboOf(event)
    if (combo === undefined) return
    event.preventDefault()
    event.stopPropagation()
    setWaiting(undefined)
    if (combo === 'Escape' && map[deed] !== 'Escape') {
      setSaid('')
      return
    }
    const refusal = bind(deed, combo)
    setSaid(refusal ? p.refused(combo, refusal) : `${p.changed(p.deed[deed], combo)}${lost()}`)
  }

  const list = (title: string, deeds: readonly Deed[]) => (
    <section>
      <h3>{title}</h3>
      <ul>
        {deeds.map((deed) => (
          <li key={deed}>
            <span>{p.deed[deed]}</span>
            <button
              type="button"
              aria-label={waiting === deed ? p.pressNow : p.keyButton(p.deed[deed], map[deed])}
              aria-pressed={waiting === deed}
              onClick={() => {
                setWaiting(deed)
                setSaid(p.pressNow)
              }}
              onBlur={() => setWaiting((now) => (now === deed ? undefined : now))}
              onKeyDown={(event) => press(event, deed)}
            >
              {waiting === deed ? '…' : p.key(map[deed])}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )

  return (
    <dialog
      ref={dialog}
      className="keys-dialog"
      aria-labelledby="keys-title"
      onClose={onClose}
      // Escape is a key like others while one is asked for.
      onCancel={(event) => waiting && event.preventDefault()}
    >
      <h2 id="keys-title">{p.keysTitle}</h2>
      <p>{p.keysHow}</p>
      <div className="keys-lists">
        {list(p.keysOfItem, ITEM_DEEDS)}
        {list(p.keysOfPlan, PLAN_DEEDS)}
      </div>
      <p className="keys-said" role="status">
        {said}
      </p>
      <div className="group">
        <button
          type="button"
          onClick={() => {
            reset()
            setSaid(lost().trim())
          }}
        >
          {p.keysReset}
        </button>
        <button type="button" onClick={() => dialog.current?.close()}>
          {p.close}
        </button>
      </div>
    </dialog>
  )
}
