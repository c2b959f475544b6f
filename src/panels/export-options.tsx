/** What the workshop's machines ask for, as sentences with something to fill in. */
import type { ReactNode } from 'react'
import { pens } from '../export/index.ts'
import type { PdfPart } from '../export/pdf.ts'
import { type DrawnGroup, LIMITS, type Shop } from '../store/export-settings.ts'
import type { Kind } from './export-files.ts'
import { NumberField } from './making-number.tsx'

/** What is asked for this time only: it belongs to the plate in hand and not to the machine. */
export interface Once {
  readonly asMade: boolean
  readonly parts: readonly PdfPart[]
  readonly look: 'light' | 'dark'
}

const Tick = ({ on, onChange, children }: { on: boolean; onChange: (on: boolean) => void; children: ReactNode }) => (
  <label className="tick">
    <input type="checkbox" checked={on} onChange={(event) => onChange(event.target.checked)} />
    <span>{children}</span>
  </label>
)

const PARTS: readonly (readonly [PdfPart, string])[] = [
  ['template', 'The decks at 1:1, over as many sheets as they take.'],
  ['assembly', 'The assembly sheet: plan, order of work, hardware, wires.'],
  ['dummies', 'Paper dummies of every part, to cut out and try by hand.'],
]

const GROUPS: readonly (readonly [DrawnGroup, string])[] = [
  ['cut', 'cuts'],
  ['drill', 'holes to drill'],
  ['existing', 'what is there already'],
  ['mark', 'marks'],
  ['notes', 'notes'],
]

interface Given {
  readonly kind: Kind
  readonly decks: number
  readonly shop: Shop
  readonly once: Once
  readonly onShop: (shop: Shop) => void
  readonly onOnce: (once: Once) => void
  readonly onWrong: (field: string, wrong: boolean) => void
}

export function Options(given: Given) {
  const { kind, once, onOnce } = given
  if (kind === 'tables' || kind === 'gltf') return null
  return (
    <fieldset className="options">
      <legend>How it is made</legend>
      {(kind === 'svg' || kind === 'dxf') && <Machine {...given} />}
      {kind === 'pdf' && <Paper {...given} />}
      {kind === 'pictures' && (
        <label>
          Drawn{' '}
          <select
            value={once.look}
            onChange={(e) => onOnce({ ...once, look: e.target.value === 'dark' ? 'dark' : 'light' })}
          >
            <option value="light">on light ground</option>
            <option value="dark">on dark ground</option>
          </select>
        </label>
      )}
    </fieldset>
  )
}

function Exists({ once, onOnce }: Given) {
  return (
    <Tick on={once.asMade} onChange={(asMade) => onOnce({ ...once, asMade })}>
      The plate exists already: only new holes, slots and cut-outs are made.
    </Tick>
  )
}

function Machine(given: Given) {
  const { kind, decks, shop, onShop, onWrong } = given
  const set = (some: Partial<Shop>): void => onShop({ ...shop, ...some })
  return (
    <>
      <p>
        The cut takes away{' '}
        <NumberField
          label="Kerf, mm"
          value={shop.kerf}
          range={LIMITS.kerf}
          length
          onChange={(kerf) => set({ kerf })}
          onWrong={onWrong}
        />{' '}
        mm; the lines move aside by half of it.
      </p>
      <p>
        Leave{' '}
        <NumberField
          label="Tabs in each larger cut line"
          value={shop.tabs}
          range={{ ...LIMITS.tabs, whole: true }}
          onChange={(tabs) => set({ tabs })}
          onWrong={onWrong}
        />{' '}
        tabs of{' '}
        <NumberField
          label="Width of a tab, mm"
          value={shop.tabWidth}
          range={LIMITS.tabWidth}
          length
          onChange={(tabWidth) => set({ tabWidth })}
          onWrong={onWrong}
        />{' '}
        mm standing in each larger cut line.
      </p>
      <Exists {...given} />
      <Tick on={shop.laserHoles} onChange={(laserHoles) => set({ laserHoles })}>
        New holes are cut by the machine too, instead of drilled.
      </Tick>
      <Tick on={shop.marksAsPaths} onChange={(marksAsPaths) => set({ marksAsPaths })}>
        Labels are single lines, for machines that have no letters.
      </Tick>
      {decks > 1 && (
        <Tick on={shop.together} onChange={(together) => set({ together })}>
          All decks lie side by side in one file.
        </Tick>
      )}
      {kind === 'dxf' && (
        <label>
          For programs that read{' '}
          <select value={shop.dxf} onChange={(e) => set({ dxf: e.target.value === 'r12' ? 'r12' : 'r2000' })}>
            <option value="r2000">DXF of 2000 and later</option>
            <option value="r12">only old DXF (R12)</option>
          </select>
        </label>
      )}
      {kind === 'svg' && (
        <details>
          <summary>Colours, by which a machine tells cuts from marks</summary>
          <div className="swatches">
            {GROUPS.map(([group, name]) => (
              <label key={group}>
                <input
                  type="color"
                  value={shop.colours[group] ?? fullHex(pens[group].colour)}
                  onChange={(e) => set({ colours: { ...shop.colours, [group]: e.target.value } })}
                />{' '}
                {name}
              </label>
            ))}
            <button
              type="button"
              onClick={() => set({ colours: {} })}
              disabled={Object.keys(shop.colours).length === 0}
            >
              Colours as they were
            </button>
          </div>
        </details>
      )}
    </>
  )
}

/** A colour field takes six digits and nothing else. */
const fullHex = (colour: string): string =>
  /^#[0-9a-f]{6}$/i.test(colour)
    ? colour
    : /^#[0-9a-f]{3}$/i.test(colour)
      ? `#${[...colour.slice(1)].map((c) => c + c).join('')}`
      : '#000000'

function Paper(given: Given) {
  const { shop, once, onShop, onOnce } = given
  return (
    <>
      <label>
        Printed on{' '}
        <select
          value={shop.paper}
          onChange={(e) => onShop({ ...shop, paper: e.target.value === 'Letter' ? 'Letter' : 'A4' })}
        >
          <option value="A4">A4</option>
          <option value="Letter">Letter</option>
        </select>
      </label>
      {PARTS.map(([part, text]) => (
        <Tick
          key={part}
          on={once.parts.includes(part)}
          onChange={(on) =>
            onOnce({ ...once, parts: PARTS.map(([p]) => p).filter((p) => (p === part ? on : once.parts.includes(p))) })
          }
        >
          {text}
        </Tick>
      ))}
      <Exists {...given} />
    </>
  )
}
