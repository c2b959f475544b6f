/** What the workshop's machines ask for, as sentences with something to fill in. */
import type { ReactNode } from 'react'
import { pens } from '../export/index.ts'
import { type PdfPart, pdfParts } from '../export/pdf-parts.ts'
import { type DrawnGroup, LIMITS, type Shop } from '../store/export-settings.ts'
import { words } from '../words/index.ts'
import type { Kind } from './export-files.ts'
import { NumberField } from './making-number.tsx'

const text = words.files

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

const GROUPS: readonly DrawnGroup[] = ['cut', 'drill', 'existing', 'mark', 'notes']

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
      <legend>{text.how}</legend>
      {(kind === 'svg' || kind === 'dxf') && <Machine {...given} />}
      {kind === 'pdf' && <Paper {...given} />}
      {kind === 'pictures' && (
        <label>
          {text.drawn}{' '}
          <select
            value={once.look}
            onChange={(e) => onOnce({ ...once, look: e.target.value === 'dark' ? 'dark' : 'light' })}
          >
            <option value="light">{text.onLight}</option>
            <option value="dark">{text.onDark}</option>
          </select>
        </label>
      )}
    </fieldset>
  )
}

function Exists({ once, onOnce }: Given) {
  return (
    <Tick on={once.asMade} onChange={(asMade) => onOnce({ ...once, asMade })}>
      {text.exists}
    </Tick>
  )
}

function Machine(given: Given) {
  const { kind, decks, shop, onShop, onWrong } = given
  const set = (some: Partial<Shop>): void => onShop({ ...shop, ...some })
  return (
    <>
      <p>
        {text.kerf[0]}{' '}
        <NumberField
          label={text.kerfLabel}
          value={shop.kerf}
          range={LIMITS.kerf}
          length
          onChange={(kerf) => set({ kerf })}
          onWrong={onWrong}
        />{' '}
        {text.kerf[1]}
      </p>
      <p>
        {text.tabs[0]}{' '}
        <NumberField
          label={text.tabsLabel}
          value={shop.tabs}
          range={{ ...LIMITS.tabs, whole: true }}
          onChange={(tabs) => set({ tabs })}
          onWrong={onWrong}
        />{' '}
        {text.tabs[1]}{' '}
        <NumberField
          label={text.tabWidthLabel}
          value={shop.tabWidth}
          range={LIMITS.tabWidth}
          length
          onChange={(tabWidth) => set({ tabWidth })}
          onWrong={onWrong}
        />{' '}
        {text.tabs[2]}
      </p>
      <Exists {...given} />
      <Tick on={shop.laserHoles} onChange={(laserHoles) => set({ laserHoles })}>
        {text.laserHoles}
      </Tick>
      <Tick on={shop.marksAsPaths} onChange={(marksAsPaths) => set({ marksAsPaths })}>
        {text.marksAsPaths}
      </Tick>
      {decks > 1 && (
        <Tick on={shop.together} onChange={(together) => set({ together })}>
          {text.together}
        </Tick>
      )}
      {kind === 'dxf' && (
        <label>
          {text.dxfFor}{' '}
          <select value={shop.dxf} onChange={(e) => set({ dxf: e.target.value === 'r12' ? 'r12' : 'r2000' })}>
            <option value="r2000">{text.dxf.r2000}</option>
            <option value="r12">{text.dxf.r12}</option>
          </select>
        </label>
      )}
      {kind === 'svg' && (
        <details>
          <summary>{text.colours}</summary>
          <div className="swatches">
            {GROUPS.map((group) => (
              <label key={group}>
                <input
                  type="color"
                  value={shop.colours[group] ?? fullHex(pens[group].colour)}
                  onChange={(e) => set({ colours: { ...shop.colours, [group]: e.target.value } })}
                />{' '}
                {text.group[group]}
              </label>
            ))}
            <button
              type="button"
              onClick={() => set({ colours: {} })}
              disabled={Object.keys(shop.colours).length === 0}
            >
              {text.coloursBack}
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
        {text.paper}{' '}
        <select
          value={shop.paper}
          onChange={(e) => onShop({ ...shop, paper: e.target.value === 'Letter' ? 'Letter' : 'A4' })}
        >
          <option value="A4">{text.papers.A4}</option>
          <option value="Letter">{text.papers.Letter}</option>
        </select>
      </label>
      {pdfParts.map((part) => (
        <Tick
          key={part}
          on={once.parts.includes(part)}
          onChange={(on) =>
            onOnce({ ...once, parts: pdfParts.filter((p) => (p === part ? on : once.parts.includes(p))) })
          }
        >
          {text.pdfPart[part]}
        </Tick>
      ))}
      <Exists {...given} />
    </>
  )
}
