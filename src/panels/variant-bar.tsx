/** What the variant on the stage asks: its order of what matters, its room for later, what differs in it; and what can be done with it. */
import { lazy, Suspense, useEffect, useRef, useState } from 'react'
import { copyVariant, differencesOf, removeVariant, renameVariant } from '../model/edit-variants.ts'
import { words } from '../words/index.ts'
import { Refused } from './refused.tsx'
import { useActions, useDeck, useDeckwright } from './use.ts'
import { Order } from './variant-order.tsx'
import { Rooms } from './variant-rooms.tsx'
import { useEdit } from './variant-use.ts'
import './variant-bar.css'

const Differs = lazy(() => import('./variant-differs.tsx'))
const text = words.variants.bar

interface RenameProps {
  readonly variant: string
  readonly name: string
  readonly onName: (name: string) => void
  readonly onClose: () => void
}

function Rename({ variant, name, onName, onClose }: RenameProps) {
  const [typed, setTyped] = useState(name === variant ? '' : name)
  const field = useRef<HTMLInputElement>(null)
  useEffect(() => field.current?.focus(), [])
  return (
    <form
      className="variant-rename"
      onSubmit={(event) => {
        event.preventDefault()
        onName(typed)
        onClose()
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose()
      }}
    >
      <input
        ref={field}
        aria-label={text.name(variant)}
        maxLength={80}
        value={typed}
        onChange={(e) => setTyped(e.target.value)}
      />
      <button type="submit">{text.nameIt}</button>
      <button type="button" onClick={onClose}>
        {text.leave}
      </button>
      <span className="quiet">{text.idStays(variant)}</span>
    </form>
  )
}

export function VariantBar() {
  const { store } = useDeckwright()
  const actions = useActions()
  const sheet = useDeck((s) => s.history.doc.sheets[s.active])
  const many = useDeck((s) => s.history.doc.sheets.length)
  const project = useDeck((s) => s.history.doc.project)
  const { wrong, edit } = useEdit()
  const [naming, setNaming] = useState(false)
  const [differing, setDiffering] = useState(false)
  const variant = sheet?.variant ?? ''
  // biome-ignore lint/correctness/useExhaustiveDependencies: a name is typed for one variant
  useEffect(() => setNaming(false), [variant])
  if (!sheet) return null

  const copy = (): void => {
    const made = copyVariant(store.getState().history.doc.project, variant)
    if (!edit(() => made.project)) return
    actions.choose(store.getState().history.doc.sheets.findIndex((s) => s.variant === made.id))
    setDiffering(true)
  }

  return (
    <section className="variant-bar" aria-label={text.label(variant)}>
      <div className="variant-head">
        <Order edit={edit} />
        <div className="group">
          <button type="button" aria-expanded={differing} onClick={() => setDiffering(!differing)}>
            {text.differs(differencesOf(project, variant).length)}
          </button>
          <button type="button" aria-label={text.copyOf(variant)} onClick={copy}>
            {text.copy}
          </button>
          <button type="button" aria-expanded={naming} onClick={() => setNaming(!naming)}>
            {text.rename}
          </button>
          <button
            type="button"
            aria-label={text.removeOf(variant)}
            disabled={many < 2}
            title={many < 2 ? text.onlyOne : undefined}
            // Held down it would delete one after the other.
            onKeyDown={(event) => event.repeat && event.preventDefault()}
            onClick={(event) => {
              const byPointer = event.detail > 0
              if (!edit((p) => removeVariant(p, variant))) return
              // The same button deletes the next one now: the keys go to that one's card, once it is there.
              requestAnimationFrame(() =>
                document.querySelector<HTMLElement>('.cards .on-stage')?.focus({ preventScroll: byPointer }),
              )
            }}
          >
            {text.remove}
          </button>
        </div>
      </div>
      {naming && (
        <Rename
          variant={variant}
          name={sheet.name}
          onName={(name) => edit((p) => renameVariant(p, variant, name))}
          onClose={() => setNaming(false)}
        />
      )}
      <Rooms variant={variant} edit={edit} />
      <Refused look="variant-wrong">{wrong}</Refused>
      {differing && (
        <Suspense fallback={null}>
          <Differs key={variant} variant={variant} edit={edit} />
        </Suspense>
      )}
    </section>
  )
}
