/** The plan on the stage: items to drag, focus and free; to look at nearer, to measure on, and with what is known of them in layers. */
import { type KeyboardEvent, type ReactNode, type RefObject, useEffect, useMemo, useRef, useState } from 'react'
import { useStore } from 'zustand'
import { loadLibrary } from '../../footprints/load.ts'
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import { besideBody } from '../store/callout-place.ts'
import { roundUp } from '../store/colour-map.ts'
import { currentsOf } from '../store/currents.ts'
import { keys as keyStore, planDeed } from '../store/key-map.ts'
import { layers } from '../store/layers.ts'
import { loadsOf } from '../store/loads.ts'
import { distancesOf, freeRoom } from '../store/measure.ts'
import { samePlace } from '../store/moves.ts'
import { boxOf } from '../store/outline.ts'
import { createPlanView, type PlanViews, paneOf, panned, STEP, zoomedAt } from '../store/plan-view.ts'
import { leadsOf } from '../store/shared-leads.ts'
import type { Actions, Carry } from '../store/store.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Callout } from './callout.tsx'
import { frameOf, gapFor } from './frame.ts'
import { useGestures } from './gestures.ts'
import { Hatches } from './hatches.tsx'
import type { ItemKeys } from './keys.ts'
import { MeasureStrokes, type Measuring, marksOf, measuredText, pointSet, pulledTo } from './measuring.tsx'
import { PlanDeck } from './plan-deck.tsx'
import { ColourScale, figure, LoadMarks, mostOf } from './power-layers.tsx'
import { Band, Rulers } from './rulers.tsx'
import { Tools } from './tools.tsx'
import './overlays.css'
import './tools.css'

interface Props {
  readonly view: View
  readonly carry: Carry | undefined
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly hoveredWire: number | undefined
  readonly actions: Actions
  readonly keys: ItemKeys
  /** For wires and currents; without it wires are laid as is usual, and no current is known. */
  readonly project?: Project
  /** Shared by plans that move together; without it the plan moves alone. */
  readonly views?: PlanViews
  /** Of one plan beside another: the ids of its hatches, and its name. */
  readonly scope?: string
  readonly label?: string
  readonly tools?: boolean
  /** Ids of what a sentence speaks of that was chosen. */
  readonly lit?: ReadonlySet<string>
  /** What holds cost, in words, by item. */
  readonly costs?: ReadonlyMap<string, string>
  /** Before anything is done with a press on it, as when this plan is to be the one on the stage. */
  readonly onReach?: () => void
  /** What else is drawn on a deck, in its own millimetres; `scale` is millimetres for one pixel. */
  readonly over?: (deck: number, scale: number) => ReactNode
}

const NONE: readonly Placement[] = []

/** Room around the decks for rulers, mm. */
const padOf = (problem: Problem): number =>
  Math.max(12, ...problem.decks.map((d) => 0.09 * Math.max(boxOf(d.outline).w, boxOf(d.outline).h) * 1e-3))

/** The size of the picture on the screen. */
function usePixels(svg: RefObject<SVGSVGElement | null>) {
  const [pixels, setPixels] = useState<{ readonly width: number; readonly height: number }>()
  useEffect(() => {
    const element = svg.current
    if (!element) return
    const measure = (): void => {
      const { width, height } = element.getBoundingClientRect()
      if (width > 0 && height > 0)
        setPixels((old) => (old?.width === width && old.height === height ? old : { width, height }))
    }
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    measure()
    return () => observer.disconnect()
  }, [svg])
  return pixels
}

/** Those that a preview moves, but for the carried one. */
const movedIn = (carry: Carry | undefined): readonly Placement[] => {
  const preview = (carry as { preview?: readonly Placement[] } | undefined)?.preview
  if (!carry || !preview) return NONE
  const old = new Map(carry.from.map((p) => [p.item, p]))
  return preview.filter((p) => p.item !== carry.item && !samePlace(old.get(p.item), p))
}

export function Plan(props: Props) {
  const { view, carry, selected, hovered, hoveredWire, actions, keys, project, scope = 'stage', tools = true } = props
  const { problem, placements } = view
  const svg = useRef<SVGSVGElement>(null)
  const measured = usePixels(svg)
  const frame = useMemo(() => {
    const pad = padOf(problem)
    return frameOf(problem, pad, gapFor(problem, pad, measured?.width), 1.1)
  }, [problem, measured?.width])
  const decks = useRef<(SVGGElement | null)[]>([])
  const [own] = useState(createPlanView)
  const views = props.views ?? own
  const look = useStore(views.store)
  const { on, snapping, drive, slope, slopeToward, stack } = useStore(layers().store)
  const keyMap = useStore(keyStore().store)
  const pixels = useMemo(
    () => measured ?? { width: frame.width / 0.35, height: frame.height / 0.35 },
    [measured, frame],
  )
  const { pane, scale } = useMemo(() => paneOf(frame, look, pixels), [frame, look, pixels])
  const [measuring, setMeasuring] = useState<Measuring | undefined>(undefined)

  // else a deck is not drawn again for being panned
  const said = selected !== undefined && props.costs?.has(selected) === true
  const { lit } = props
  const faulty = useMemo(
    () => new Set([...view.findings.flatMap((f) => f.items), ...(lit ?? [])]),
    [view.findings, lit],
  )
  const leads = leadsOf(view, project, carry !== undefined)
  const item = carry?.item ?? problem.items.findIndex((i) => i.id === selected)
  const distances = useMemo(
    () => (on.distances && item >= 0 ? distancesOf(problem, placements, item) : []),
    [on.distances, problem, placements, item],
  )
  const itemDeck = placements.find((p) => p.item === item)?.deck
  const free = useMemo(() => (on.strips ? freeRoom(problem, placements) : undefined), [on.strips, problem, placements])
  const currents = useMemo(
    () =>
      on.currents && project && !carry ? currentsOf(project, loadLibrary(), problem, placements, drive) : undefined,
    [on.currents, project, problem, placements, drive, carry],
  )
  const badges = useMemo(
    () => currents && new Map(currents.map((c) => [c.wire, words.plan.amps(figure(c.amps))])),
    [currents],
  )
  const loads = useMemo(
    () => (on.loads ? loadsOf(problem, placements, { slope, slopeToward, stack }) : undefined),
    [on.loads, problem, placements, slope, slopeToward, stack],
  )
  const lowest = problem.decks.reduce((low, d, i) => (d.z < (problem.decks[low]?.z ?? d.z) ? i : low), 0)
  const moved = useMemo(() => movedIn(carry), [carry])

  const through = (element: SVGGraphicsElement | null | undefined, x: number, y: number) => {
    const matrix = element?.getScreenCTM()?.inverse()
    return matrix && new DOMPoint(x, y).matrixTransform(matrix)
  }
  const inDeck = (x: number, y: number, deck: number) => {
    const p = through(decks.current[deck], x, y)
    return p && { x: Math.round(p.x * 1000), y: Math.round(p.y * 1000) }
  }
  const measureAt = (x: number, y: number, how: 'tap' | 'move'): void => {
    if (!measuring) return
    const inside = frame.decks.findIndex(({ box }, deck) => {
      const p = inDeck(x, y, deck)
      return (
        p && p.x >= box.x - 5000 && p.y >= box.y - 5000 && p.x <= box.x + box.w + 5000 && p.y <= box.y + box.h + 5000
      )
    })
    const deck = inside < 0 ? measuring.deck : inside
    const at = inDeck(x, y, deck)
    if (!at) return
    const spot = pulledTo(marksOf(problem, placements, deck), at, 8 * scale * 1000)
    if (how === 'tap') setMeasuring(pointSet(measuring, deck, spot))
    else if (measuring.points.length === 0 || measuring.deck === deck) setMeasuring({ ...measuring, deck, at: spot })
  }
  const hands = useGestures(svg, {
    problem,
    placements,
    frame,
    scale,
    views,
    actions,
    snapping,
    measuring: measuring !== undefined,
    inDeck,
    inSheet: (x, y) => {
      const p = through(svg.current, x, y)
      return p && { x: p.x - frame.width / 2, y: frame.height / 2 - p.y }
    },
    onTap: () => actions.select(undefined),
    onMeasure: measureAt,
  })

  const pressKey = (event: KeyboardEvent): void => {
    if (event.target !== svg.current) return
    const deed = planDeed(keyMap, event)
    const way = { planLeft: [-1, 0], planRight: [1, 0], planFront: [0, 1], planBack: [0, -1] } as const
    const step = deed && deed in way ? way[deed as keyof typeof way] : undefined
    if (measuring && step) {
      const by = problem.grid
      setMeasuring({ ...measuring, at: { x: measuring.at.x + step[0] * by, y: measuring.at.y + step[1] * by } })
    } else if (measuring && event.key === 'Enter') setMeasuring(pointSet(measuring, measuring.deck, measuring.at))
    else if (measuring && event.key === 'Escape') setMeasuring(undefined)
    else if (step) views.show(panned(look, (step[0] * pane.width) / 8, (step[1] * pane.height) / 8), frame)
    else if (deed === 'nearer' || deed === 'farther')
      views.show(zoomedAt(look, deed === 'nearer' ? STEP : 1 / STEP, look), frame)
    else if (deed === 'whole') views.whole()
    else return
    event.preventDefault()
  }
  const toggleMeasuring = (): void => {
    const deck = frame.decks[0]
    setMeasuring(
      measuring || !deck
        ? undefined
        : { deck: 0, at: { x: deck.box.x + deck.box.w / 2, y: deck.box.y + deck.box.h / 2 }, points: [] },
    )
  }

  const hanging = carry && placements.find((p) => p.item === carry.item)
  const hangingDeck = hanging && frame.decks[hanging.deck]
  const hangingItem = hanging && problem.items[hanging.item]
  const hangs = hangingItem && turnedSize(hangingItem.footprint.width, hangingItem.footprint.depth, hanging.turn)
  const side =
    hanging &&
    hangs &&
    hangingDeck &&
    besideBody(
      {
        x: (hangingDeck.x + hanging.at.x / 1000 - pane.x) / scale,
        y: (frame.height - hangingDeck.y - (hanging.at.y + hangs.h) / 1000 - pane.y) / scale,
        w: hangs.w / 1000 / scale,
        h: hangs.h / 1000 / scale,
      },
      { w: pixels.width, h: pixels.height },
    )

  return (
    <div className="plan-place" onPointerDownCapture={props.onReach}>
      {tools && <Tools views={views} frame={frame} measuring={measuring !== undefined} onMeasure={toggleMeasuring} />}
      {measuring && (
        <p className="measure-said" role="status">
          {measuring.points.length > 0 ? measuredText(measuring) : words.plan.measureHow}
        </p>
      )}
      <div className="plan-pane">
        {/* biome-ignore lint/a11y/useSemanticElements: a picture whose parts are buttons is a group, and no fieldset */}
        <svg
          ref={svg}
          className={['plan', carry && 'carrying', measuring && 'measures', look.zoom > 1 && 'near']
            .filter(Boolean)
            .join(' ')}
          style={{ aspectRatio: `${frame.width} / ${frame.height}` }}
          viewBox={`${pane.x} ${pane.y} ${pane.width} ${pane.height}`}
          role="group"
          // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys look around in it, as they scroll elsewhere
          tabIndex={0}
          aria-label={props.label ?? words.plan.title}
          aria-describedby={`${scope}-how`}
          onPointerDown={hands.ground}
          onPointerMove={hands.move}
          onPointerUp={hands.up}
          onPointerCancel={hands.cancel}
          onLostPointerCapture={hands.lost}
          onPointerLeave={() => actions.hover(undefined)}
          onKeyDown={pressKey}
        >
          <Hatches scope={scope} />
          <g transform={`translate(0 ${frame.height}) scale(1 -1)`}>
            {frame.decks.map((deck, index) => (
              <g
                key={problem.decks[index]?.id}
                data-deck={index}
                transform={`translate(${deck.x} ${deck.y})`}
                ref={(element) => {
                  decks.current[index] = element
                }}
              >
                <PlanDeck
                  view={view}
                  deck={index}
                  at={deck}
                  scale={scale}
                  scope={scope}
                  carry={carry}
                  moved={moved}
                  selected={selected}
                  hovered={hovered}
                  hoveredWire={hoveredWire}
                  faulty={faulty}
                  stood={view.stood}
                  on={on}
                  leads={leads}
                  distances={index === itemDeck ? distances : NO_DISTANCES}
                  free={free?.[index]}
                  currents={currents}
                  loads={loads}
                  badges={badges}
                  costs={props.costs}
                  seenFrom={said ? pane.x - deck.x : undefined}
                  seenTo={said ? pane.x + pane.width - deck.x : undefined}
                  actions={actions}
                  keys={keys}
                  onPress={hands.press}
                />
                {props.over?.(index, scale)}
                {measuring?.deck === index && <MeasureStrokes measuring={measuring} scale={scale} />}
              </g>
            ))}
          </g>
          {frame.decks.map((deck, index) => (
            <g key={problem.decks[index]?.id}>
              {on.rulers && <Rulers frame={frame} deck={deck} pane={pane} scale={scale} />}
              {loads && index === lowest && (
                <g transform={`translate(${deck.x} ${frame.height - deck.y}) scale(1 -1)`}>
                  <LoadMarks loads={loads} scale={scale} />
                </g>
              )}
              {index === itemDeck && <Band frame={frame} deck={deck} pane={pane} scale={scale} distances={distances} />}
            </g>
          ))}
        </svg>
        {view.stuck && !carry && placements.length === 0 && (
          <p className="plan-stood">{view.stood ? words.plan.stood : words.plan.noneStood}</p>
        )}
        {carry && side && <Callout view={view} carry={carry} moved={moved} side={side} />}
      </div>
      <p id={`${scope}-how`} className="unseen">
        {words.plan.how}
      </p>
      {on.currents && !carry && (
        <ColourScale
          title={words.plan.currentsTitle}
          most={mostOf(currents ?? [])}
          unit={words.plan.amps}
          notes={currents?.length ? [] : [words.plan.noCurrents]}
        />
      )}
      {on.loads && (
        <ColourScale
          title={words.plan.loadsTitle}
          most={loads ? roundUp(Math.max(loads.tracks.left.force, loads.tracks.right.force)) : 1}
          unit={words.plan.newtons}
          notes={!loads ? [words.plan.noLoads] : loads.tips ? [words.plan.tips] : []}
        />
      )}
    </div>
  )
}

const NO_DISTANCES: ReturnType<typeof distancesOf> = []
