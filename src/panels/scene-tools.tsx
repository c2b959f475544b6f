/** Under the 3D view: from where it looks, what it shows, its sliders, and each part shown, hinted at or left away. */
import { useMemo } from 'react'
import { useStore } from 'zustand'
import { stoodOf } from '../store/balance-view.ts'
import { type Camera, NEARER, nearer, STANDS, TURN, turnedBy } from '../store/camera.ts'
import { freeTiltsAt, headsOf, meets, poseOf, sliderRange } from '../store/head-view.ts'
import { type Downhill, layers } from '../store/layers.ts'
import { EXTRAS, sceneView, WAYS, type Way, wayOf } from '../store/scene-view.ts'
import { called } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Slider } from './slider.tsx'
import { useActions, useDeck } from './use.ts'
import './scene-tools.css'

const text = words.scene

function Turning({ camera }: { camera: Camera }) {
  const by = (around: number, up: number) => (): void => camera.turn(turnedBy(camera.store.getState(), around, up))
  const far = (factor: number) => (): void => camera.turn(nearer(camera.store.getState(), factor))
  const signs = [
    [text.left, '←', by(-TURN, 0)],
    [text.right, '→', by(TURN, 0)],
    [text.up, '↑', by(0, TURN)],
    [text.down, '↓', by(0, -TURN)],
    [text.nearer, '+', far(NEARER)],
    [text.farther, '−', far(1 / NEARER)],
  ] as const
  return (
    <>
      {signs.map(([label, sign, act]) => (
        <button key={label} type="button" className="sign" aria-label={label} title={label} onClick={act}>
          {sign}
        </button>
      ))}
      {(['above', 'front', 'side'] as const).map((name) => (
        <button key={name} type="button" onClick={() => camera.turn(STANDS[name])}>
          {text[name]}
        </button>
      ))}
      <button type="button" onClick={camera.whole}>
        {text.whole}
      </button>
    </>
  )
}

function Balanced({ view }: { view: View }) {
  const { slope, slopeToward } = useStore(layers().store)
  const { set } = layers()
  const stacked = useStore(sceneView().store, (v) => v.stacked)
  const { problem, placements } = view
  const stood = useMemo(
    () => stoodOf(problem, placements, { slope, slopeToward }, stacked),
    [problem, placements, slope, slopeToward, stacked],
  )
  if (!stood) return <p className="quiet">{text.noBalance}</p>
  const { now, worst } = stood
  return (
    <>
      <Slider
        className="scene-slider"
        label={text.slope}
        range={[0, 45]}
        value={slope}
        said={text.degrees}
        onChange={(value) => set({ slope: value })}
      />
      <label className="scene-slider">
        <span>{text.downhill}</span>
        <select value={slopeToward} onChange={(e) => set({ slopeToward: e.target.value as Downhill })}>
          {(Object.keys(words.plan.downhill) as Downhill[]).map((way) => (
            <option key={way} value={way}>
              {words.plan.downhill[way]}
            </option>
          ))}
        </select>
      </label>
      <p>{now.tips ? text.tips(now.away) : text.stands(now.away)}</p>
      <p>{worst.tips ? text.tipsWorst(worst.away) : text.standsWorst(worst.away)}</p>
    </>
  )
}

/** Slivers that round away say nothing. */
const wide = (spans: readonly (readonly [number, number])[]) => spans.filter(([a, b]) => b - a >= 0.1)

function Heads({ view }: { view: View }) {
  const { pan, tilt } = useStore(layers().store)
  const { set } = layers()
  const stacked = useStore(sceneView().store, (v) => v.stacked)
  const { problem, placements } = view
  const heads = useMemo(() => headsOf(problem, placements, stacked), [problem, placements, stacked])
  const pans = sliderRange(heads, 'pan')
  const tilts = sliderRange(heads, 'tilt')
  if (!pans || !tilts) return null
  return (
    <>
      <Slider
        className="scene-slider"
        label={text.pan}
        range={pans}
        value={pan}
        said={text.panAt}
        onChange={(value) => set({ pan: value })}
      />
      {tilts[0] < tilts[1] && (
        <Slider
          className="scene-slider"
          label={text.tilt}
          range={tilts}
          value={tilt}
          said={text.tiltAt}
          onChange={(value) => set({ tilt: value })}
        />
      )}
      {heads.map((head) => {
        const pose = poseOf(head, { pan, tilt })
        return (
          <p key={head.id}>
            {text.freePans(called(head.id), wide(head.report.freePan))}{' '}
            {text.freeTilts(
              pose.pan,
              tilts[0] < tilts[1] ? wide(freeTiltsAt(head, pose.pan)) : freeTiltsAt(head, pose.pan),
            )}
            {meets(head, pose) && <b> {text.meets(called(head.id))}</b>}
          </p>
        )
      })}
    </>
  )
}

function Parts({ view }: { view: View }) {
  const state = useStore(sceneView().store)
  const { show, showAll } = sceneView()
  const actions = useActions()
  const selected = useDeck((s) => s.selected)
  const { problem } = view
  const choice = (kind: 'item' | 'deck', id: string, name: string, label: string) => (
    <li key={`${kind} ${id}`} className={kind === 'item' && selected === id ? 'selected' : undefined}>
      <label>
        <span aria-hidden="true">{name}</span>
        <select
          aria-label={label}
          value={wayOf(state, kind, id)}
          onFocus={() => kind === 'item' && actions.select(id)}
          onChange={(event) => show(kind, id, event.target.value as Way)}
        >
          {WAYS.map((way) => (
            <option key={way} value={way}>
              {text.way[way]}
            </option>
          ))}
        </select>
      </label>
    </li>
  )
  return (
    <details className="scene-more">
      <summary>{text.parts}</summary>
      <div className="scene-list">
        <p className="quiet">{text.partsHow}</p>
        <button type="button" disabled={Object.keys(state.parts).length === 0} onClick={showAll}>
          {text.all}
        </button>
        <ul>
          {problem.decks.map((d) => choice('deck', d.id, d.name, text.deck(d.name)))}
          {problem.items.map((i) => choice('item', i.id, called(i.id), text.item(called(i.id))))}
        </ul>
      </div>
    </details>
  )
}

export default function SceneTools({ view, camera }: { view: View; camera: Camera }) {
  const { on, lift, stacked } = useStore(sceneView().store)
  const { flip, set } = sceneView()
  const { problem } = view
  const levels = new Set(problem.decks.map((d) => d.z)).size
  return (
    <div className="scene-tools" role="toolbar" aria-label={text.tools}>
      <Turning camera={camera} />
      <details className="scene-more">
        <summary>{text.shown}</summary>
        <div className="scene-list">
          {EXTRAS.map((extra) => (
            <label key={extra} className="scene-switch">
              <input type="checkbox" checked={on[extra]} onChange={() => flip(extra)} /> {text.extra[extra]}
            </label>
          ))}
          {levels > 1 && (
            <Slider
              className="scene-slider"
              label={text.lift}
              range={[0, 1]}
              step={0.05}
              value={lift}
              said={text.liftAt}
              onChange={(value) => set({ lift: value })}
            />
          )}
          {problem.items.some((i) => i.stack > 0) && (
            <Slider
              className="scene-slider"
              label={text.stacked}
              range={[0, 1]}
              step={0.05}
              value={stacked}
              said={text.stackedAt}
              onChange={(value) => {
                set({ stacked: value })
                // The plan knows only the two ends.
                if (value === 0 || value === 1) layers().set({ stack: value === 0 ? 'lightest' : 'heaviest' })
              }}
            />
          )}
          <Heads view={view} />
          {on.balance && <Balanced view={view} />}
        </div>
      </details>
      <Parts view={view} />
    </div>
  )
}
