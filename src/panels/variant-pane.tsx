/** One variant on the stage, alone or beside another: its plan and its 3D view, which move with those of the other. */
import { lazy, type ReactNode, Suspense, useDeferredValue, useMemo } from 'react'
import type { ItemKeys } from '../plan/keys.ts'
import { Legend } from '../plan/legend.tsx'
import { Plan } from '../plan/plan.tsx'
import { costText } from '../store/ask-words.ts'
import { placesApart } from '../store/compare.ts'
import { leadsOf } from '../store/shared-leads.ts'
import type { Actions } from '../store/store.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Boundary, NoScene } from './boundary.tsx'
import { marked, useLit } from './report-use.ts'
import { useActions, useDeck, useDeckwright } from './use.ts'
import { ApartMarks } from './variant-apart.tsx'
import { useStageState } from './variant-use.ts'
import { useWebGl } from './webgl.ts'

// three is large, and the plan is to be of use before it is there.
const Scene = lazy(() => import('../scene/scene.tsx'))
const SceneTools = lazy(() => import('./scene-tools.tsx'))
const text = words.variants.two

/** What changes a layout is done to the variant on the stage, so that this one becomes it first. */
function reaching(actions: Actions, reach: () => void): Actions {
  const first =
    <A extends readonly unknown[], R>(act: (...args: A) => R) =>
    (...args: A): R => {
      reach()
      return act(...args)
    }
  return {
    ...actions,
    lift: first(actions.lift),
    turn: first(actions.turn),
    hold: first(actions.hold),
    free: first(actions.free),
    place: first(actions.place),
    toDeck: first(actions.toDeck),
  }
}

interface Props {
  readonly index: number
  readonly view: View
  /** The other variant on the stage. */
  readonly other?: View | undefined
  readonly keys: ItemKeys
}

export function Pane({ index, view, other, keys }: Props) {
  const here = useDeckwright()
  const actions = useActions()
  const { beside, camera, planView } = useStageState()
  const active = useDeck((s) => s.active)
  const carry = useDeck((s) => s.carry)
  const selected = useDeck((s) => s.selected)
  const hovered = useDeck((s) => s.hovered)
  const hoveredWire = useDeck((s) => s.hoveredWire)
  const project = useDeck((s) => s.history.doc.project)
  const webGl = useWebGl()
  const { variant } = view.sheet
  const mine = index === active

  const reach = useMemo(
    () => (): void => {
      const { history, active: now } = here.store.getState()
      const was = history.doc.sheets[now]?.variant
      if (now === index) return
      beside.setState({ variant: was })
      here.actions.choose(index)
    },
    [here, beside, index],
  )
  const hands = useMemo(() => (other ? reaching(actions, reach) : actions), [other, actions, reach])
  const fingers = useMemo(
    (): ItemKeys =>
      other
        ? {
            ...keys,
            press: (id, event) => {
              reach()
              keys.press(id, event)
            },
          }
        : keys,
    [other, keys, reach],
  )
  const asked = useDeck((s) => s.asked.get(view.sheet)?.costs)
  const costs = useMemo(() => asked && new Map([...asked].map(([id, cost]) => [id, costText(cost)])), [asked])
  const carrying = mine && carry !== undefined
  const leads = useMemo(() => leadsOf(view, project, carrying), [view, project, carrying])
  const apart = useMemo(() => (other ? placesApart(view, other) : []), [view, other])
  const lit = useLit(view, mine)
  const faulty = useMemo(() => marked(view.findings, lit), [view.findings, lit])
  const drawn = useMemo(() => ({ view, leads, faulty }), [view, leads, faulty])
  // The plan and the sentences first: what the 3D view makes anew must not hold them up, nor the next key. What is in hand keeps up.
  const deferred = useDeferredValue(drawn)
  const later = carry ? drawn : deferred
  const over = other
    ? (deck: number, scale: number): ReactNode => (
        <ApartMarks here={view} there={other} apart={apart} deck={deck} scale={scale} inHand={[selected, hovered]} />
      )
    : undefined

  return (
    <>
      <div className="view-plan">
        {other && (
          <div className="pane-head">
            <h2>
              {variant}
              {mine && <small> {text.working}</small>}
            </h2>
            {!mine && (
              <button type="button" className="small-quiet" onClick={reach}>
                {text.work(variant)}
              </button>
            )}
          </div>
        )}
        <Plan
          view={view}
          carry={mine ? carry : undefined}
          selected={selected}
          hovered={hovered}
          hoveredWire={mine ? hoveredWire : undefined}
          actions={hands}
          keys={fingers}
          project={project}
          views={planView}
          scope={other ? `stage-${index}` : 'stage'}
          tools={mine}
          {...(other ? { label: text.plan(variant), onReach: reach } : {})}
          {...(over ? { over } : {})}
          {...(costs ? { costs } : {})}
          lit={lit}
        />
        {!other && <Legend />}
      </div>
      <div className="view-scene">
        {webGl?.why !== undefined ? (
          <NoScene why={webGl.why} />
        ) : !webGl ? (
          <p className="scene-wait">{text.sceneWait}</p>
        ) : (
          <Boundary>
            <Suspense fallback={<p className="scene-wait">{text.sceneWait}</p>}>
              <Scene
                problem={later.view.problem}
                placements={later.view.placements}
                stood={later.view.stood}
                selected={selected}
                hovered={hovered}
                faulty={later.faulty}
                leads={later.leads}
                hoveredWire={mine ? hoveredWire : undefined}
                actions={hands}
                camera={camera}
                slow={webGl.slow}
              />
              {mine && <SceneTools view={view} camera={camera} />}
            </Suspense>
          </Boundary>
        )}
      </div>
    </>
  )
}
