/**
 * The caliper's rows as they are typed in the deck workshop. They are no part of the document, and can be kept nowhere else: so they are
 * kept as parts are that were begun, for each work its own, until somebody begins anew.
 */
import { createStore, type StoreApi } from 'zustand/vanilla'
import { createDrafts } from './drafts.ts'
import type { Shelf } from './shelf.ts'

export const CALIPER_KEY = 'deckwright-caliper-rows'

export interface HoleRow {
  readonly id: string
  /** As typed; empty = to be measured. */
  readonly diameter: string
  readonly nearX: string
  readonly nearY: string
}

const JAWS = ['centre', 'near', 'far', 'inner', 'outer'] as const

export interface MeasureRow {
  readonly from: string
  /** Empty: the diameter of the hole `from`. */
  readonly to: string
  readonly jaws: (typeof JAWS)[number]
  /** One distance read several times, kept apart by `;`. */
  readonly readings: string
}

export interface CaliperForm {
  readonly holes: readonly HoleRow[]
  readonly measures: readonly MeasureRow[]
}

/** Width and depth are what any plate is measured by first. */
export const emptyForm: CaliperForm = {
  holes: [],
  measures: [
    { from: 'left', to: 'right', jaws: 'centre', readings: '' },
    { from: 'back', to: 'front', jaws: 'centre', readings: '' },
  ],
}

export interface Rows {
  readonly form: CaliperForm
  /** When what was found again had been kept; undefined where they were begun here. */
  readonly back: number | undefined
  /** Whether a reload would find them. */
  readonly kept: boolean
  /** What was put aside to begin anew. */
  readonly aside: CaliperForm | undefined
}

/** Whose rows they are: the work as it is kept, and the count of documents opened, which tells it apart while nothing is kept. */
export interface Whose {
  readonly work: string | undefined
  readonly opened: number
}

export interface CaliperRows {
  /** Those that were typed since the page was loaded; another document's do not count. */
  readonly store: StoreApi<{ readonly opened: number; readonly rows: Rows } | Record<string, never>>
  readonly of: (whose: Whose) => Rows
  readonly put: (whose: Whose, form: CaliperForm) => void
  readonly anew: (whose: Whose) => void
  /** What was put aside, in place of what stands there. */
  readonly bringBack: (whose: Whose) => void
}

export function createCaliperRows(shelf: Shelf | undefined, clock?: () => number): CaliperRows {
  const drafts = createDrafts(shelf, { name: CALIPER_KEY, field: 'form', isSound }, clock)
  const store: CaliperRows['store'] = createStore(() => ({}))
  const of = ({ work, opened }: Whose): Rows => {
    const now = store.getState()
    if (now.rows && now.opened === opened) return now.rows
    const found = work === undefined ? undefined : drafts.recall(work)
    return { form: found?.value ?? emptyForm, back: found?.at, kept: true, aside: undefined }
  }
  const stand = ({ work, opened }: Whose, form: CaliperForm, rest: Pick<Rows, 'back' | 'aside'>): void => {
    const begun = JSON.stringify(form) !== JSON.stringify(emptyForm)
    const kept = work === undefined ? !begun : drafts.keep(work, begun ? form : undefined)
    store.setState({ opened, rows: { form, kept, ...rest } })
  }
  return {
    store,
    of,
    put: (whose, form) => stand(whose, form, { back: of(whose).back, aside: undefined }),
    anew: (whose) => stand(whose, emptyForm, { back: undefined, aside: of(whose).form }),
    bringBack: (whose) => {
      const { aside } = of(whose)
      if (aside) stand(whose, aside, { back: undefined, aside: undefined })
    },
  }
}

const texts = (value: unknown, fields: readonly string[]): boolean =>
  typeof value === 'object' &&
  value !== null &&
  fields.every((f) => typeof (value as Record<string, unknown>)[f] === 'string')

function isSound(value: unknown): value is CaliperForm {
  const { holes, measures } = (value ?? {}) as Partial<CaliperForm>
  return (
    Array.isArray(holes) &&
    holes.every((h) => texts(h, ['id', 'diameter', 'nearX', 'nearY'])) &&
    Array.isArray(measures) &&
    measures.every((m: MeasureRow) => texts(m, ['from', 'to', 'readings']) && JAWS.includes(m.jaws))
  )
}
