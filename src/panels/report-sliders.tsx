/** What is looked at: wires, current and loads on the plan, the head's pose, the slope, the stacks; every value in words too. */
import { useStore } from 'zustand'
import { type Downhill, type Layers, layers } from '../store/layers.ts'
import { poseRange } from '../store/report-parts.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Slider } from './slider.tsx'

const text = words.report.sliders

const options = <K extends string>(texts: Readonly<Record<K, string>>) =>
  (Object.keys(texts) as K[]).map((k) => (
    <option key={k} value={k}>
      {texts[k]}
    </option>
  ))

export function PoseSliders({ view }: { view: View }) {
  const { pan, tilt } = useStore(layers().store)
  const { set } = layers()
  const range = poseRange(view)
  if (!range) return <p className="quiet">{text.noHead}</p>
  return (
    <div className="sliders">
      <Slider
        className="slider"
        label={text.pan}
        value={pan}
        range={range.pan}
        said={text.panSaid}
        onChange={(p) => set({ pan: p })}
      />
      {range.tilt[0] < range.tilt[1] && (
        <Slider
          className="slider"
          label={text.tilt}
          value={tilt}
          range={range.tilt}
          said={text.tiltSaid}
          onChange={(t) => set({ tilt: t })}
        />
      )}
    </div>
  )
}

export function SlopeSliders() {
  const { slope, slopeToward } = useStore(layers().store)
  const { set } = layers()
  const { front, back, left, right } = text.side
  return (
    <div className="sliders">
      <Slider
        className="slider"
        label={text.slope}
        value={slope}
        range={[0, 45]}
        said={text.slopeSaid}
        onChange={(s) => set({ slope: s })}
      />
      <label className="slider">
        <span>{text.toward}</span>
        <select value={slopeToward} onChange={(event) => set({ slopeToward: event.target.value as Downhill })}>
          {options({ front, back, left, right })}
        </select>
      </label>
    </div>
  )
}

export default function Sliders({ view }: { view: View }) {
  const { on, drive, stack } = useStore(layers().store)
  const { flip, set } = layers()
  return (
    <section className="report-part" aria-label={words.report.part.sliders}>
      <p className="quiet">{text.how}</p>
      <fieldset className="slider-layers">
        <legend>{text.layers}</legend>
        {(['wires', 'currents', 'loads'] as const).map((name) => (
          <button key={name} type="button" aria-pressed={on[name]} onClick={() => flip(name)}>
            {text.layer[name]}
          </button>
        ))}
      </fieldset>
      <PoseSliders view={view} />
      <SlopeSliders />
      <div className="sliders">
        <label className="slider">
          <span>{text.stack}</span>
          <select value={stack} onChange={(event) => set({ stack: event.target.value as Layers['stack'] })}>
            {options(text.stacks)}
          </select>
        </label>
        <label className="slider">
          <span>{text.drive}</span>
          <select value={drive} onChange={(event) => set({ drive: event.target.value as Layers['drive'] })}>
            {options(words.report.power.state)}
          </select>
        </label>
      </div>
    </section>
  )
}
