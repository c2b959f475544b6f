/** The open deck drawn to scale: shapes are made, moved and chosen on it, by pointer and by keys. */
import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef, useState } from 'react'
import { shapeToSolver } from '../../footprints/fields.ts'
import { cornersOf, shapeAt } from '../model/edit-corners.ts'
import { type Part, partsOf } from '../model/edit-deck.ts'
import { formOf, kindOf } from '../model/edit-shapes.ts'
import { lengthText } from '../model/lengths.ts'
import { matrixOf, type Underlay } from '../model/underlay.ts'
import { Hatches, hatch } from '../plan/hatches.tsx'
import { pathOf, platePath } from '../plan/paths.ts'
import { type DeckDraft, dropped, partOf } from '../store/deck-draft.ts'
import { deckFrame } from '../store/deck-frame.ts'
import { DRAWN } from '../store/deck-worries.ts'
import { words } from '../words/index.ts'
import { CornersLayer } from './deck-corners.tsx'
import { DeckNames } from './deck-names.tsx'
import { usePlanDrag } from './deck-plan-drag.ts'
import { useDraft, useDraftStore, useOpenDeck, useProject } from './deck-use.ts'

const w = words.deck
const SCOPE = 'deck-workshop'
/** mm around the plate; more where its corners may be drawn outwards, as a share of it. */
const PAD = 8
const ROOM = 0.12
/** Of a large deck too there is room for what is written beside it. */
const SHARE = 0.045
export interface Laid {
  readonly underlay: Underlay
  readonly url: string
  readonly opacity: number
}

/** Millimetres for one pixel of the screen. */
function useScale(width: number, height: number) {
  const ref = useRef<SVGSVGElement>(null)
  const [scale, setScale] = useState(0.3)
  useEffect(() => {
    const svg = ref.current
    if (!svg) return
    const measure = (): void => {
      const box = svg.getBoundingClientRect()
      if (box.width > 0 && box.height > 0) setScale(Math.max(width / box.width, height / box.height))
    }
    const observer = new ResizeObserver(measure)
    observer.observe(svg)
    measure()
    return () => observer.disconnect()
  }, [width, height])
  return { ref, scale }
}

export function DeckPlan({ laid }: { laid: Laid | undefined }) {
  const project = useProject()
  const deck = useOpenDeck()
  const store = useDraftStore()
  const draft = useDraft((d) => d)
  const frame = useRef<SVGGElement>(null)
  // Of the project as it stands: were it to grow with a drag, the plan would change under the hand.
  const { plate, all } = useMemo(() => deckFrame(project, deck.id), [project, deck.id])
  const pad =
    draft.corners?.of.part === 'outline' && 'polygon' in deck.outline
      ? Math.max(PAD, ROOM * Math.max(all.w, all.h))
      : Math.max(PAD, SHARE * Math.max(all.w, all.h))
  const [width, height] = [all.w + 2 * pad, all.h + 2 * pad]
  /** What is written at the edges stands beside the plate, outside all that is drawn. */
  const [left, top] = [pad + plate.x - all.x, pad + all.y + all.h - plate.y - plate.h]
  const { ref, scale } = useScale(width, height)
  /** The plan's own width, but for the length that is written along its left edge. */
  const room = [all.x - pad + 8 * scale, all.x + all.w + pad - scale] as const
  /** Writing keeps clear of the handles of corners. */
  const air = (draft.corners?.of.part === 'outline' ? 10 : 0) * scale

  const hand = usePlanDrag(ref, frame)

  const drag = draft.drag
  const moved = drag?.moves
  /** The project as it would be, for drawing what is on its way. */
  const shown = moved || drag?.corner ? (dropped(project, draft)?.project ?? project) : project
  const preview = drag && !moved && !drag.corner ? dropped(project, draft) : undefined
  const part = drag && !drag.corner ? (moved?.part ?? partOf(draft.tool)) : undefined
  const said = drag?.corner
    ? words.corners.said((draft.corners?.at ?? 0) + 1, lengthText(drag.to[0]), lengthText(drag.to[1]))
    : drag && part
      ? saidOf(preview?.project ?? shown, deck.id, part, preview?.id ?? moved?.id, drag)
      : undefined

  const handle = (kind: Part, one: One) => ({
    role: 'button' as const,
    tabIndex: 0,
    'aria-label': w.handle(w.called(w.kind[kindOf(kind, one)], one.id), whereOf(one)),
    className: draft.chosen?.part === kind && draft.chosen.id === one.id ? 'deck-part chosen' : 'deck-part',
    onPointerDown: (event: PointerEvent) => {
      if (draft.tool !== 'move') return
      event.stopPropagation()
      hand.begin(event, { part: kind, id: one.id })
    },
    onFocus: () => store.setState({ chosen: { part: kind, id: one.id } }),
    onBlur: hand.leave,
    onKeyDown: (event: KeyboardEvent) => hand.press(event, kind, one.id),
  })

  const outline = shapeToSolver(shown.decks.find((d) => d.id === deck.id)?.outline ?? deck.outline)
  const openings = partsOf(shown, 'openings', deck.id)
  const contact = project.chassis?.contact ?? []
  const drawn = draft.corners && shapeAt(shown, deck.id, draft.corners.of)
  // An undo may have made a rectangle of it again.
  const cornered = cornersOf(drawn) && drawn
  const help = cornered && draft.tool === 'move' ? words.corners.help : w.toolHelp[draft.tool]
  return (
    <div className="deck-plan">
      {/* biome-ignore lint/a11y/useSemanticElements: a picture whose parts are buttons is a group, and no fieldset */}
      <svg
        ref={ref}
        className={`plan tool-${draft.tool}${laid ? ' on-photo' : ''}`}
        viewBox={`0 0 ${width} ${height}`}
        role="group"
        tabIndex={-1}
        aria-label={w.plan}
        onPointerDown={(event) => {
          if (draft.tool !== 'move') hand.begin(event)
        }}
        {...hand.pointer}
      >
        <Hatches scope={SCOPE} />
        <g ref={frame} transform={`translate(${pad - all.x} ${height - pad + all.y}) scale(1 -1)`}>
          <path
            className="deck"
            fillRule="evenodd"
            d={platePath(
              outline,
              openings.map((o) => shapeToSolver(o.shape)),
            )}
          />
          {laid && (
            <image
              className="deck-photo"
              href={laid.url}
              width={laid.underlay.size[0]}
              height={laid.underlay.size[1]}
              opacity={laid.opacity}
              transform={`matrix(${matrixOf(laid.underlay).join(' ')})`}
            />
          )}
          {laid && <path className="deck-over" d={pathOf(outline)} />}
          {contact.length > 2 && <path className="deck-contact" d={`M${contact.map((p) => p.join(' ')).join('L')}z`} />}
          {project.chassis && (
            <path
              className="deck-centre"
              d={crossAt(project.chassis.centre[0], project.chassis.centre[1], 6 * scale)}
            />
          )}
          {partsOf(shown, 'zones', deck.id).map((zone) => (
            <g key={zone.id} {...handle('zones', zone)}>
              <path
                className={`zone zone-${zone.kind}`}
                d={pathOf(shapeToSolver(zone.shape))}
                fill={hatch(SCOPE, zone.kind)}
              />
              <path className="deck-edge" d={pathOf(shapeToSolver(zone.shape))} />
            </g>
          ))}
          {openings.map((o) => (
            <g key={o.id} {...handle('openings', o)}>
              <path
                className={o.mayCover ? 'deck-opening may-cover' : 'deck-opening'}
                d={pathOf(shapeToSolver(o.shape))}
              />
              <path className="deck-edge" d={pathOf(shapeToSolver(o.shape))} />
            </g>
          ))}
          {(['holes', 'exits', 'passes'] as const).flatMap((kind) =>
            partsOf(shown, kind, deck.id).map((one) => {
              const r = ('diameter' in one && one.diameter ? one.diameter : DRAWN) / 2
              return (
                <g key={`${kind} ${one.id}`} {...handle(kind, one)}>
                  <circle className="deck-reach" cx={one.at[0]} cy={one.at[1]} r={Math.max(r, 12 * scale)} />
                  <circle
                    className={kind === 'holes' ? 'hole' : `lead deck-${kind}`}
                    cx={one.at[0]}
                    cy={one.at[1]}
                    r={r}
                  />
                  <circle className="deck-edge" cx={one.at[0]} cy={one.at[1]} r={r + 2 * scale} />
                </g>
              )
            }),
          )}
          <DeckNames project={shown} deck={deck.id} scale={scale} right={plate.x + plate.w} room={room} />
          {preview && part && <Preview project={preview.project} deck={deck.id} part={part} id={preview.id} />}
          {cornered && draft.corners && (
            <CornersLayer
              of={draft.corners.of}
              shape={cornered}
              scale={scale}
              onTake={hand.takeCorner}
              onArrow={hand.pressCorner}
              onSettle={hand.leave}
              onRefused={hand.setRefused}
            />
          )}
          {drag && !preview && !moved && !drag.corner && (
            <path className="deck-centre" d={crossAt(drag.to[0], drag.to[1], 8 * scale)} />
          )}
        </g>
        <text className="deck-name" x={left} y={pad - 5 * scale - air} fontSize={12 * scale}>
          {w.front}
        </text>
        <g className="deck-name" fontSize={12 * scale} textAnchor="middle">
          <text x={left + plate.w / 2} y={height - pad + 17 * scale + air}>
            {w.measure(lengthText(plate.w))}
          </text>
          <text transform={`translate(${pad - 8 * scale - air} ${top + plate.h / 2}) rotate(-90)`}>
            {w.measure(lengthText(plate.h))}
          </text>
        </g>
      </svg>
      <p className="deck-said" aria-live="polite">
        {hand.refused || hand.fault ? (
          <span className="field-wrong">{hand.fault ?? hand.refused}</span>
        ) : (
          (said ?? help)
        )}
      </p>
    </div>
  )
}

const crossAt = (x: number, y: number, arm: number): string =>
  `M${x - arm} ${y}L${x + arm} ${y}M${x} ${y - arm}L${x} ${y + arm}`

function Preview({
  project,
  deck,
  part,
  id,
}: {
  project: ReturnType<typeof useProject>
  deck: string
  part: Part
  id: string
}) {
  const one = partsOf(project, part, deck).find((p) => p.id === id)
  if (!one) return null
  if ('shape' in one) return <path className="deck-preview" d={pathOf(shapeToSolver(one.shape))} />
  const r = ('diameter' in one && one.diameter ? one.diameter : DRAWN) / 2
  return <circle className="deck-preview" cx={one.at[0]} cy={one.at[1]} r={r} />
}

type One = ReturnType<typeof partsOf<Part>>[number]

/** Where it is and how large, in words. */
function whereOf(one: One): string {
  const t = lengthText
  if (!('shape' in one)) return w.at(t(one.at[0]), t(one.at[1]))
  const form = formOf(one.shape)
  switch (form.kind) {
    case 'rect':
    case 'free':
      return w.sized(t(form.width), t(form.depth), t(form.x), t(form.y))
    case 'round':
      return w.across(t(form.diameter), t(form.x), t(form.y))
    case 'slot':
      // No micrometres of what runs aslant.
      return w.long(
        t(Math.round((Math.hypot(form.to[0] - form.from[0], form.to[1] - form.from[1]) + form.width) * 10) / 10),
      )
  }
}

function saidOf(
  project: ReturnType<typeof useProject>,
  deck: string,
  part: Part,
  id: string | undefined,
  drag: NonNullable<DeckDraft['drag']>,
): string {
  const one = partsOf(project, part, deck).find((p) => p.id === id)
  const here = one ? whereOf(one) : w.at(lengthText(drag.to[0]), lengthText(drag.to[1]))
  if (!drag.moves) return here
  return `${here}; ${w.moved(lengthText(drag.to[0] - drag.from[0]), lengthText(drag.to[1] - drag.from[1]))}`
}
