/** A flat photo under the plan, scaled by two points whose distance was measured. The picture stays in the browser. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { shapeToSolver } from '../../footprints/fields.ts'
import {
  faultOf,
  firstLaid,
  levelled,
  type Pixel,
  scaleOf,
  type Underlay,
  underlayOf,
  withUnderlay,
} from '../model/underlay.ts'
import { boxOf } from '../store/outline.ts'
import type { Pictures } from '../store/pictures.ts'
import { words } from '../words/index.ts'
import type { Laid } from './deck-plan.tsx'
import { useEdit, useOpenDeck, useProject } from './deck-use.ts'
import { LengthField, NumberEntry, type Refusal } from './length-field.tsx'
import { Refused } from './refused.tsx'

const w = words.deck
/** Pixels of the longer side that are kept: finer than the eye can place a point, and small enough to keep. */
const MOST_PIXELS = 2400
const MOST_BYTES = 40_000_000

/** The picture of the open deck's photo as an address that the page can show; `gone` says why there is none. */
export function usePhoto(pictures: Pictures): {
  readonly laid: Laid | undefined
  readonly gone: string | undefined
  readonly show: (strong: number) => void
} {
  const project = useProject()
  const deck = useOpenDeck()
  const underlay = underlayOf(project, deck.id)
  const [opacity, setOpacity] = useState(0.6)
  const [url, setUrl] = useState<{ readonly of: string; readonly url: string | undefined; readonly why?: string }>()
  const picture = underlay?.picture
  useEffect(() => {
    if (picture === undefined) return
    let made: string | undefined
    let here = true
    pictures.get(picture).then((found) => {
      if (!here) return
      made = 'picture' in found && found.picture ? URL.createObjectURL(found.picture) : undefined
      setUrl({ of: picture, url: made, ...('why' in found ? { why: found.why } : {}) })
    })
    return () => {
      here = false
      if (made) URL.revokeObjectURL(made)
    }
  }, [picture, pictures])
  const now = url?.of === picture ? url : undefined
  const laid = underlay && now?.url ? { underlay, url: now.url, opacity } : undefined
  const missing = underlay !== undefined && now !== undefined && now.url === undefined
  return { laid, gone: missing ? goneText(underlay.file, now.why) : undefined, show: setOpacity }
}

const goneText = (file: string, why: string | undefined): string =>
  why === undefined ? w.photoGone(file) : w.photoNotFetched(file, why)

/** A smaller copy for the page; undefined where it is no picture. */
async function copyOf(file: File): Promise<{ readonly blob: Blob; readonly size: Pixel } | undefined> {
  try {
    const bitmap = await createImageBitmap(file)
    const by = Math.min(1, MOST_PIXELS / Math.max(bitmap.width, bitmap.height))
    const size: Pixel = [Math.max(1, Math.round(bitmap.width * by)), Math.max(1, Math.round(bitmap.height * by))]
    const canvas = new OffscreenCanvas(size[0], size[1])
    canvas.getContext('2d')?.drawImage(bitmap, 0, 0, size[0], size[1])
    bitmap.close()
    return { blob: await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 }), size }
  } catch {
    return undefined
  }
}

export function DeckPhoto({ pictures, photo }: { pictures: Pictures; photo: ReturnType<typeof usePhoto> }) {
  const project = useProject()
  const deck = useOpenDeck()
  const edit = useEdit()
  const underlay = underlayOf(project, deck.id)
  const picker = useRef<HTMLInputElement>(null)
  const [note, setNote] = useState<string>()
  const lay = (next: Underlay): Refusal => (faultOf(next) ? w.photoFault : edit(withUnderlay(project, deck.id, next)))
  const pick = async (file: File): Promise<void> => {
    setNote(undefined)
    if (file.size > MOST_BYTES) {
      setNote(w.photoLarge(file.name))
      return
    }
    const copy = await copyOf(file)
    if (!copy) {
      setNote(w.photoFailed(file.name))
      return
    }
    const name = crypto.randomUUID?.() ?? String(Math.random())
    const kept = await pictures.keep(name, copy.blob)
    const box = boxOf(shapeToSolver(deck.outline))
    const first = firstLaid(name, file.name, copy.size, box.w / 1000, [
      (box.x + box.w / 2) / 1000,
      (box.y + box.h / 2) / 1000,
    ])
    // The same photo chosen again lies where it lay.
    const again = underlay && underlay.size[0] === copy.size[0] && underlay.size[1] === copy.size[1]
    setNote(
      lay(again ? { ...underlay, picture: name, file: file.name } : first) ??
        (kept.kept ? undefined : w.photoNotKept(kept.why)),
    )
  }
  return (
    <>
      <p className="quiet">{w.photoHelp}</p>
      <div className="group">
        <button type="button" onClick={() => picker.current?.click()}>
          {underlay ? w.photoAnother : w.photoPick}
        </button>
        {underlay && (
          <button type="button" onClick={() => setNote(edit(withUnderlay(project, deck.id, undefined)))}>
            {w.photoRemove}
          </button>
        )}
        <input
          ref={picker}
          type="file"
          accept="image/*"
          hidden
          aria-label={w.photoFile}
          onChange={async (event) => {
            const input = event.currentTarget
            const file = input.files?.[0]
            if (file) await pick(file)
            input.value = ''
          }}
        />
      </div>
      <Refused>{note}</Refused>
      {photo.gone && <p className="field-wrong">{photo.gone}</p>}
      {underlay && <Lies underlay={underlay} lay={lay} laid={photo.laid} show={photo.show} />}
    </>
  )
}

function Lies({
  underlay: u,
  lay,
  laid,
  show,
}: {
  underlay: Underlay
  lay: (next: Underlay) => Refusal
  laid: Laid | undefined
  show: (strong: number) => void
}) {
  const [which, setWhich] = useState<0 | 1>(0)
  const setPoint = (k: 0 | 1, to: Pixel): Refusal =>
    lay({ ...u, points: k === 0 ? [to, u.points[1]] : [u.points[0], to] })
  return (
    <>
      {laid && <Points underlay={u} url={laid.url} which={which} onPoint={setPoint} />}
      <fieldset className="deck-choices">
        <legend>{w.photoWhich}</legend>
        {([0, 1] as const).map((k) => (
          <label key={k}>
            <input type="radio" name="deck-point" checked={which === k} onChange={() => setWhich(k)} />
            <span>{w.point[k]}</span>
          </label>
        ))}
      </fieldset>
      {([0, 1] as const).map((k) => (
        <fieldset key={k} className="deck-fields plain">
          <legend>{w.pointName[k]}</legend>
          {([0, 1] as const).map((axis) => (
            <NumberEntry
              key={axis}
              label={axis === 0 ? w.fromLeft : w.fromTop}
              unit={w.px}
              value={u.points[k][axis]}
              range={{ least: 0, most: u.size[axis] }}
              onChange={(v) => setPoint(k, axis === 0 ? [v, u.points[k][1]] : [u.points[k][0], v])}
            />
          ))}
        </fieldset>
      ))}
      <div className="deck-fields">
        <LengthField
          label={w.distance}
          value={u.distance}
          limits={{ least: 0.1, most: 10_000 }}
          onChange={(distance) => lay({ ...u, distance })}
        />
        <NumberEntry
          label={w.angle}
          unit={w.degrees}
          value={u.angle}
          range={{ least: -360, most: 360 }}
          onChange={(angle) => lay({ ...u, angle })}
        />
      </div>
      <p className="quiet">{w.scale(String(Number(scaleOf(u).toPrecision(4))))}</p>
      <fieldset className="deck-fields plain">
        <legend>{w.lies}</legend>
        <LengthField label={w.x} value={u.at[0]} onChange={(x) => lay({ ...u, at: [x, u.at[1]] })} />
        <LengthField label={w.y} value={u.at[1]} onChange={(y) => lay({ ...u, at: [u.at[0], y] })} />
      </fieldset>
      <div className="group">
        <button type="button" onClick={() => lay({ ...u, angle: levelled(u) })}>
          {w.level}
        </button>
      </div>
      {laid && (
        <label className="deck-choice">
          {w.opacity}
          <input
            type="range"
            min={0.1}
            max={1}
            step={0.1}
            value={laid.opacity}
            onChange={(e) => show(Number(e.target.value))}
          />
        </label>
      )}
    </>
  )
}

const STEPS: Readonly<Record<string, Pixel>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
}

/** The photo with a cross on each point; a click sets the one that is chosen, arrow keys move the one that has the focus. */
function Points({
  underlay: u,
  url,
  which,
  onPoint,
}: {
  underlay: Underlay
  url: string
  which: 0 | 1
  onPoint: (k: 0 | 1, to: Pixel) => Refusal
}) {
  const svg = useRef<SVGSVGElement>(null)
  // Keys move it many times before it is put down, as one step.
  const [moving, setMoving] = useState<{ readonly k: 0 | 1; readonly to: Pixel }>()
  const [width, height] = u.size
  const inside = ([x, y]: Pixel): Pixel => [
    Math.round(Math.min(Math.max(x, 0), width) * 10) / 10,
    Math.round(Math.min(Math.max(y, 0), height) * 10) / 10,
  ]
  const click = (event: PointerEvent): void => {
    const matrix = svg.current?.getScreenCTM()?.inverse()
    if (event.button !== 0 || !matrix) return
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix)
    onPoint(which, inside([p.x, p.y]))
  }
  const put = (): void => {
    if (moving) onPoint(moving.k, moving.to)
    setMoving(undefined)
  }
  const press = (event: KeyboardEvent, k: 0 | 1): void => {
    const step = STEPS[event.key]
    if (step && !event.ctrlKey && !event.altKey && !event.metaKey) {
      event.preventDefault()
      const by = event.shiftKey ? 10 : 1
      const [x, y] = moving?.k === k ? moving.to : u.points[k]
      setMoving({ k, to: inside([x + step[0] * by, y + step[1] * by]) })
    } else if (event.key === 'Enter' && moving) put()
    else if (event.key === 'Escape' && moving) {
      event.preventDefault()
      event.stopPropagation()
      setMoving(undefined)
    }
  }
  const arm = Math.max(width, height) / 22
  return (
    // biome-ignore lint/a11y/useSemanticElements: a picture whose parts are buttons is a group, and no fieldset
    <svg
      ref={svg}
      className="deck-points"
      viewBox={`0 0 ${width} ${height}`}
      role="group"
      aria-label={w.photoPicture}
      onPointerDown={click}
    >
      <image href={url} width={width} height={height} />
      {([0, 1] as const).map((k) => {
        const [x, y] = moving?.k === k ? moving.to : u.points[k]
        return (
          // biome-ignore lint/a11y/useSemanticElements: a part of a drawing
          <g
            key={k}
            role="button"
            tabIndex={0}
            aria-label={w.cross(w.pointName[k], x, y)}
            className={which === k ? 'deck-cross chosen' : 'deck-cross'}
            onKeyDown={(event) => press(event, k)}
            onBlur={put}
          >
            <circle cx={x} cy={y} r={arm} />
            <path d={`M${x - arm} ${y}H${x + arm}M${x} ${y - arm}V${y + arm}`} />
            <text x={x + arm * 0.4} y={y - arm * 0.4} fontSize={arm}>
              {k + 1}
            </text>
          </g>
        )
      })}
    </svg>
  )
}
