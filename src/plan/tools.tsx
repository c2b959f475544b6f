/** Beside the plan: nearer and farther, measuring, what is shown, and the keys. */
import { lazy, Suspense, useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import { type Downhill, type Layers, layers, SWITCHES } from '../store/layers.ts'
import { NEAREST, type PlanViews, STEP, zoomedAt } from '../store/plan-view.ts'
import { words } from '../words/index.ts'
import type { Frame } from './frame.ts'

const KeysDialog = lazy(() => import('./keys-dialog.tsx'))

interface Props {
  readonly views: PlanViews
  readonly frame: Frame
  readonly measuring: boolean
  readonly onMeasure: () => void
}

const options = <K extends string>(texts: Readonly<Record<K, string>>) =>
  (Object.keys(texts) as K[]).map((k) => (
    <option key={k} value={k}>
      {texts[k]}
    </option>
  ))

function Shown() {
  const { store, flip, set } = layers()
  const { on, snapping, drive, slope, slopeToward, stack } = useStore(store)
  const p = words.plan
  const list = useRef<HTMLDetailsElement>(null)
  // It lies over the plan: a press beside it, and Esc in it, put it away.
  useEffect(() => {
    const away = (event: PointerEvent): void => {
      if (list.current?.open && !list.current.contains(event.target as Node)) list.current.open = false
    }
    window.addEventListener('pointerdown', away)
    return () => window.removeEventListener('pointerdown', away)
  }, [])
  return (
    <details
      ref={list}
      className="shown"
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || !list.current?.open) return
        event.preventDefault()
        list.current.open = false
        list.current.querySelector('summary')?.focus()
      }}
    >
      <summary>{p.shown}</summary>
      <div className="shown-list">
        {SWITCHES.map((name) => (
          <label key={name}>
            <input type="checkbox" checked={on[name]} onChange={() => flip(name)} /> {p.layer[name]}
          </label>
        ))}
        <label>
          <input type="checkbox" checked={snapping} onChange={() => set({ snapping: !snapping })} /> {p.snapping}
        </label>
        {on.currents && (
          <label>
            {p.driveLabel}{' '}
            <select value={drive} onChange={(e) => set({ drive: e.target.value as Layers['drive'] })}>
              {options(p.drive)}
            </select>
          </label>
        )}
        {on.loads && (
          <>
            <label>
              {p.stackLabel}{' '}
              <select value={stack} onChange={(e) => set({ stack: e.target.value as Layers['stack'] })}>
                {options(p.stack)}
              </select>
            </label>
            <label>
              {p.slope}{' '}
              <input
                type="range"
                min={0}
                max={45}
                step={1}
                value={slope}
                onChange={(e) => set({ slope: Number(e.target.value) })}
              />
              {slope}°
            </label>
            <label>
              {p.downhillLabel}{' '}
              <select value={slopeToward} onChange={(e) => set({ slopeToward: e.target.value as Downhill })}>
                {options(p.downhill)}
              </select>
            </label>
          </>
        )}
      </div>
    </details>
  )
}

export function Tools({ views, frame, measuring, onMeasure }: Props) {
  const zoom = useStore(views.store, (v) => v.zoom)
  const [asking, setAsking] = useState(false)
  const p = words.plan
  const look = (factor: number): void => {
    const view = views.store.getState()
    views.show(zoomedAt(view, factor, view), frame)
  }
  return (
    <div className="plan-tools" role="toolbar" aria-label={p.tools}>
      <button
        type="button"
        className="sign"
        aria-label={p.nearer}
        title={p.nearer}
        disabled={zoom >= NEAREST}
        onClick={() => look(STEP)}
      >
        +
      </button>
      <button
        type="button"
        className="sign"
        aria-label={p.farther}
        title={p.farther}
        disabled={zoom <= 1}
        onClick={() => look(1 / STEP)}
      >
        −
      </button>
      <button type="button" disabled={zoom <= 1} onClick={views.whole}>
        {p.whole}
      </button>
      <button type="button" aria-pressed={measuring} onClick={onMeasure}>
        {p.measure}
      </button>
      <Shown />
      <button type="button" aria-haspopup="dialog" onClick={() => setAsking(true)}>
        {p.keys}
      </button>
      {asking && (
        <Suspense>
          <KeysDialog onClose={() => setAsking(false)} />
        </Suspense>
      )}
    </div>
  )
}
