/** The 3D view: drawn when something changed, and never at rest. */
import { Canvas } from '@react-three/fiber'
import { useCallback, useDeferredValue, useId, useMemo, useState } from 'react'
import { useStore } from 'zustand'
import { bodiesOf, type Placement, type Problem } from '../../solver/index.ts'
import { stoodOf } from '../store/balance-view.ts'
import { type Camera, createCamera, FOV, wholeDistance } from '../store/camera.ts'
import { headsOf } from '../store/head-view.ts'
import { layers } from '../store/layers.ts'
import { isTight, type Lead } from '../store/leads.ts'
import { boxOf } from '../store/outline.ts'
import { sceneView, wayOf } from '../store/scene-view.ts'
import type { Actions } from '../store/store.ts'
import { words } from '../words/index.ts'
import { Balance } from './balance.tsx'
import { Bodies } from './bodies.tsx'
import { type Colours, useColours } from './colours.ts'
import { Contacts } from './contacts.tsx'
import { fineness } from './fineness.ts'
import { useGrip } from './grip.ts'
import { Head } from './head.tsx'
import { liftsOf } from './lifts.ts'
import { Plates } from './plates.tsx'
import { quietly } from './quiet.ts'
import { Corridors, StatedSweeps, Zones } from './rooms.tsx'
import { runsOf } from './runs.ts'
import { hintedAt, solidsOf } from './solids.ts'
import { Orbit, turnByKey, Watch } from './view.tsx'
import { Wires } from './wires.tsx'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** While nothing has a place: where things stood before, drawn as hinted at. */
  readonly stood?: readonly Placement[] | undefined
  readonly leads: readonly Lead[]
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly hoveredWire: number | undefined
  /** What is wrong, or spoken of in a sentence that was chosen. */
  readonly faulty: readonly { readonly items: readonly string[] }[]
  readonly actions: Pick<Actions, 'select' | 'hover' | 'lift' | 'carryTo' | 'drop' | 'takeBack'>
  /** Shared by views that turn together. */
  readonly camera?: Camera
  /** Drawn by the processor. */
  readonly slow: boolean
}

/** The middle of all decks, and how far off the camera must stand to see them, mm. */
function standOf(problem: Problem, lifts: readonly number[]) {
  const boxes = problem.decks.map((d) => boxOf(d.outline))
  const x0 = Math.min(...boxes.map((b) => b.x))
  const x1 = Math.max(...boxes.map((b) => b.x + b.w))
  const y0 = Math.min(...boxes.map((b) => b.y))
  const y1 = Math.max(...boxes.map((b) => b.y + b.h))
  const zs = problem.decks.map((d, i) => d.z / 1000 + (lifts[i] ?? 0))
  const low = Math.min(...zs)
  const rise = Math.max(...zs.map((z) => z - low), 0)
  const tallest = Math.max(...problem.items.map((i) => (i.footprint.height + i.stack) / 1000), 0)
  const high = rise + Math.max(tallest, 16)
  const [w, d] = [(x1 - x0) / 2000, (y1 - y0) / 2000]
  const usual = 1.62 * Math.max(2 * Math.hypot(w, d), 70) + 0.62 * high
  return {
    x: (x0 + x1) / 2000,
    y: (y0 + y1) / 2000,
    z: low + high * 0.38,
    // Decks far apart or very wide need more than the usual air.
    distance: Math.max(usual, 1.04 * wholeDistance([-w, -d, -0.38 * high], [w, d, 0.62 * high])),
  }
}

interface Drawn extends Props {
  readonly colours: Colours
}

/** What stands in the view; inside the canvas, so that dragging knows the camera. */
function Robot(props: Drawn & { readonly rest: boolean }) {
  const { problem, placements, leads, selected, hovered, hoveredWire, faulty, actions, colours, rest } = props
  const view = useStore(sceneView().store)
  const { pan, tilt, slope, slopeToward } = useStore(layers().store)
  const { on, stacked } = view
  const lifts = useMemo(() => liftsOf(problem, view.lift), [problem, view.lift])
  const { stood: before } = props
  const solids = useMemo(
    () => (before ? hintedAt(solidsOf(problem, before, view, lifts)) : solidsOf(problem, placements, view, lifts)),
    [problem, placements, before, view, lifts],
  )
  const wrong = useMemo(() => new Set(faulty.flatMap((f) => f.items)), [faulty])
  const seen = useMemo(
    () => bodiesOf(problem, placements).filter((b) => wayOf(view, 'item', b.item.id) !== 'hidden'),
    [problem, placements, view],
  )
  const heads = useMemo(() => headsOf(problem, placements, stacked), [problem, placements, stacked])
  const pose = useMemo(() => ({ pan, tilt }), [pan, tilt])
  // Of a head that says what it carries the true sweep is known.
  const stated = useMemo(
    () => seen.filter((b) => b.item.footprint.head && !heads.some((h) => h.item === b.index)),
    [seen, heads],
  )
  const stood = useMemo(
    () => (on.balance ? stoodOf(problem, placements, { slope, slopeToward }, stacked) : undefined),
    [on.balance, problem, placements, slope, slopeToward, stacked],
  )
  const runs = useMemo(() => {
    if (!on.wires) return []
    const there = new Set(seen.map((b) => b.index))
    const placed = (i: number): boolean => placements.some((p) => p.item === i)
    const shown = leads.filter(({ wire }) =>
      [problem.wires[wire]?.from, problem.wires[wire]?.to].every(
        (end) => end?.kind !== 'item' || end.ref.items.some((i) => there.has(i) || !placed(i)),
      ),
    )
    return runsOf(problem, seen, shown, lifts)
  }, [on.wires, problem, placements, seen, leads, lifts])
  const tight = useMemo(() => new Set(leads.filter(isTight).map((l) => l.wire)), [leads])
  const strong = useMemo(() => {
    const of = (id: string | undefined): number[] =>
      id === undefined
        ? []
        : problem.wires.flatMap((w, i) =>
            [w.from, w.to].some((e) => e.kind === 'item' && e.ref.items.some((n) => problem.items[n]?.id === id))
              ? [i]
              : [],
          )
    return new Set([...of(selected), ...(hoveredWire === undefined ? [] : [hoveredWire])])
  }, [problem, selected, hoveredWire])
  const deckWay = useCallback((id: string) => wayOf(view, 'deck', id), [view])
  const deckHidden = useCallback((id: string) => wayOf(view, 'deck', id) === 'hidden', [view])
  const onGrip = useGrip({ problem, placements, lifts, actions })
  return (
    <>
      <ambientLight intensity={1.6} />
      <directionalLight position={[-120, -200, 400]} intensity={1.9} />
      <directionalLight position={[300, 160, 120]} intensity={0.5} />
      <Plates problem={problem} colours={colours} lifts={lifts} wayOf={deckWay} />
      <Bodies
        solids={solids}
        colours={colours}
        selected={selected}
        hovered={hovered}
        faulty={wrong}
        onSelect={actions.select}
        onHover={actions.hover}
        onGrip={onGrip}
      />
      {rest && <Contacts problem={problem} placements={placements} boards={solids.solid} colour={colours.free} />}
      {rest && <Wires runs={runs} strong={strong} tight={tight} colours={colours} />}
      {on.rooms && <Corridors bodies={seen} lifts={lifts} colours={colours} />}
      {on.zones && <Zones problem={problem} lifts={lifts} hidden={deckHidden} colours={colours} />}
      {on.sweep && <StatedSweeps problem={problem} bodies={stated} lifts={lifts} colours={colours} />}
      {heads
        .filter((h) => wayOf(view, 'item', h.id) !== 'hidden')
        .map((head) => {
          const lift = lifts[head.deck] ?? 0
          const ground = (problem.decks[head.deck]?.z ?? 0) / 1000 + lift
          return (
            <Head
              key={head.id}
              head={head}
              pose={pose}
              lift={lift}
              ground={ground}
              colours={colours}
              swept={rest && on.sweep && wayOf(view, 'item', head.id) === 'shown'}
            />
          )
        })}
      {stood && <Balance stood={stood} colours={colours} />}
    </>
  )
}

/** What is drawn: decks and bodies are made first, and what takes longer in a task of its own, before anything is seen. */
function Inside({
  onLost,
  onRestored,
  ...props
}: Drawn & { readonly onLost: () => void; readonly onRestored: () => void }) {
  const rest = useDeferredValue(true, false)
  return (
    <>
      <Robot {...props} rest={rest} />
      <Watch ready={rest} onLost={onLost} onRestored={onRestored} />
    </>
  )
}

export default function Scene(props: Props) {
  useState(quietly)
  const { problem, actions, camera, slow } = props
  const colours = useColours()
  const [own] = useState(createCamera)
  const shared = camera ?? own
  const lift = useStore(sceneView().store, (v) => v.lift)
  const stand = useMemo(() => standOf(problem, liftsOf(problem, lift)), [problem, lift])
  const [lost, setLost] = useState(false)
  // Another number is another canvas.
  const [attempt, setAttempt] = useState(0)
  const lose = useCallback(() => setLost(true), [])
  const again = useCallback(() => {
    setLost(false)
    setAttempt((n) => n + 1)
  }, [])
  const how = useId()
  const text = words.scene
  return (
    // biome-ignore lint/a11y/useSemanticElements: a view that can be turned, not a set of fields
    <div
      className="scene"
      role="group"
      aria-label={text.turning}
      aria-describedby={how}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: it is turned by keys
      tabIndex={0}
      onKeyDown={(event) => {
        if (event.key === 'Escape') actions.takeBack()
        else if (turnByKey(shared, event)) event.preventDefault()
      }}
    >
      <span id={how} className="unseen">
        {text.how}
      </span>
      <div className="scene-picture" role="img" aria-label={text.label}>
        <Canvas
          key={attempt}
          frameloop="demand"
          {...fineness(slow)}
          camera={{ up: [0, 0, 1], fov: FOV, near: 1, far: 20_000 }}
          onPointerMissed={(event) => {
            if (event.type === 'click') actions.select(undefined)
          }}
        >
          <Inside {...props} colours={colours} onLost={lose} onRestored={again} />
          <Orbit {...stand} shared={shared} />
        </Canvas>
      </div>
      {lost && (
        <div className="scene-lost" role="status">
          <p>
            <b>{text.lost}</b>
          </p>
          <p>{text.lostHow}</p>
          <button type="button" onClick={again}>
            {text.again}
          </button>
        </div>
      )}
    </div>
  )
}
