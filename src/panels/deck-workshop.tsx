/** The deck workshop: plates, what is cut and drilled in them, what comes up through them and what must stay free. */
import { lazy, type ReactNode, Suspense, useEffect, useId, useRef, useState } from 'react'
import { createDeckDraft } from '../store/deck-draft.ts'
import { picturesIn } from '../store/pictures.ts'
import { words } from '../words/index.ts'
import type { Source } from './bring-files.ts'
import { DeckCaliper } from './deck-caliper.tsx'
import { DeckChassis } from './deck-chassis.tsx'
import { PartList } from './deck-parts.tsx'
import { DeckPhoto, usePhoto } from './deck-photo.tsx'
import { DeckPlan } from './deck-plan.tsx'
import { DeckChoice, DeckPlate } from './deck-plate.tsx'
import { DeckTools } from './deck-tools.tsx'
import { DraftHere, firstDeck, useDraft, useOpenDeck } from './deck-use.ts'
import { dropped, sourcesOf } from './sources.ts'
import { useActions, useDeck } from './use.ts'
import './workshop.css'
import './deck.css'

const BringIn = lazy(() => import('./bring-in.tsx'))

const w = words.deck

export default function DeckWorkshop({ onClose }: { onClose: () => void }) {
  const actions = useActions()
  const first = useDeck(firstDeck)
  const [draft] = useState(() => createDeckDraft(first))
  const [pictures] = useState(() => picturesIn(globalThis.indexedDB))
  const [bringing, setBringing] = useState<Bringing>()
  const dialog = useRef<HTMLDialogElement>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  const title = useId()
  useEffect(() => {
    const box = dialog.current
    if (!box || box.open) return
    box.showModal()
    // Not on “Done”, which a held Enter would press at once.
    heading.current?.focus()
  }, [])
  const project = useDeck((s) => s.history.doc.project)
  // What had the focus may go with a change: a row, a deck, the button that undid the first step.
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is the change that is waited for
  useEffect(() => {
    // A number that is handed on with Tab changes the project while the focus is between two fields: it is not lost then.
    const timer = setTimeout(() => {
      const now = document.activeElement
      if (!now || now === document.body || (now instanceof HTMLButtonElement && now.disabled)) heading.current?.focus()
    })
    return () => clearTimeout(timer)
  }, [project])
  const canUndo = useDeck((s) => s.history.past.length > 0)
  const canRedo = useDeck((s) => s.history.future.length > 0)
  return (
    <DraftHere value={draft}>
      <dialog
        ref={dialog}
        className="workshop deck-workshop"
        // Ctrl-Z is the document's here: what it undoes is seen.
        data-undo
        aria-labelledby={title}
        {...dropped(async (files) => {
          const sources = await sourcesOf(files)
          const measures = /\.json$/i.test(sources?.[0]?.name ?? '')
          if (sources) setBringing({ kind: measures ? 'measures' : 'deck', sources })
        })}
        onClose={(event) => {
          if (event.target === dialog.current) onClose()
        }}
      >
        <header>
          <h2 ref={heading} id={title} tabIndex={-1}>
            {w.title}
          </h2>
          <div className="group">
            <button type="button" onClick={actions.undo} disabled={!canUndo} title={w.undoKeys}>
              {w.undo}
            </button>
            <button type="button" onClick={actions.redo} disabled={!canRedo} title={w.redoKeys}>
              {w.redo}
            </button>
            <button type="button" onClick={() => dialog.current?.close()}>
              {w.close}
            </button>
          </div>
        </header>
        <DeckChoice />
        <Body pictures={pictures} onBring={(kind) => setBringing({ kind, sources: [] })} />
        {bringing && (
          <Suspense fallback={<p>{w.loading}</p>}>
            <BringInFor {...bringing} onClose={() => setBringing(undefined)} />
          </Suspense>
        )}
      </dialog>
    </DraftHere>
  )
}

interface Bringing {
  readonly kind: 'deck' | 'measures'
  /** What was dropped already. */
  readonly sources: readonly Source[]
}

function BringInFor({ kind, sources, onClose }: Bringing & { onClose: () => void }) {
  const deck = useOpenDeck()
  return <BringIn first={kind} files={sources} deck={deck.id} onClose={onClose} />
}

function Body({
  pictures,
  onBring,
}: {
  pictures: ReturnType<typeof picturesIn>
  onBring: (kind: 'deck' | 'measures') => void
}) {
  const photo = usePhoto(pictures)
  return (
    <div className="deck-bench">
      <div className="deck-table">
        <DeckTools />
        <DeckPlan laid={photo.laid} />
      </div>
      <div className="deck-sheet">
        <p className="quiet">{w.introduction}</p>
        <Section title={w.plate} open>
          <DeckPlate onDrawing={() => onBring('deck')} />
        </Section>
        {(['openings', 'holes', 'exits', 'passes', 'zones'] as const).map((part) => (
          <ListSection key={part} part={part} />
        ))}
        <Section title={w.chassis}>
          <DeckChassis />
        </Section>
        <Section title={w.photo}>
          <DeckPhoto pictures={pictures} photo={photo} />
        </Section>
        <Section title={w.caliper}>
          <DeckCaliper onFile={() => onBring('measures')} />
        </Section>
      </div>
    </div>
  )
}

/** Opens by itself when something of it is made or chosen on the plan. */
function ListSection({ part }: { part: Parameters<typeof PartList>[0]['part'] }) {
  const chosen = useDraft((d) => (d.chosen?.part === part ? d.chosen.id : undefined))
  return (
    <Section title={w[part]} wanted={chosen}>
      <PartList part={part} />
    </Section>
  )
}

function Section({
  title,
  open = false,
  wanted,
  children,
}: {
  title: string
  open?: boolean
  wanted?: string | undefined
  children: ReactNode
}) {
  const [isOpen, setOpen] = useState(open)
  useEffect(() => {
    if (wanted !== undefined) setOpen(true)
  }, [wanted])
  return (
    <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{title}</summary>
      {isOpen && children}
    </details>
  )
}
