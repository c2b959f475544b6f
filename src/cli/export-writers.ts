/** One line for each kind of file: whether there is one a deck, and how it is made. The large writers are fetched when needed. */
import type { Placement, Problem } from '../../solver/index.ts'
import { dxf, MergeError, OffsetError, type OtherLayout, sheet, svg, type Template, template } from '../export/index.ts'
import type { CheckList } from '../inspect/index.ts'
import type { LaidLead } from '../model/index.ts'
import type { Given } from './args.ts'
import type { Asked, Target } from './export-options.ts'

/** A layout with all that was asked of its files. */
export interface Job extends Omit<Asked, 'deck'> {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** The only deck that is wanted. */
  readonly deck: number | undefined
  readonly others: readonly OtherLayout[]
  /** How leads lie; missing where nothing is written that asks for it. */
  readonly laid: readonly LaidLead[] | undefined
  /** Worked out when somebody asks; undefined where nothing is electrical. */
  readonly checkList: () => Promise<CheckList | undefined>
  /** The one drawing of a deck, or of all, that SVG and DXF are written from. */
  readonly drawing: (deck: Target['deck']) => Template
  /** What to say of an error, where it is about what was asked for and no bug. */
  readonly refusal: (option: string, error: unknown) => string | undefined
}

export interface Writer {
  /** `sheet`: one file a deck, or with --sheet one for all. */
  readonly each: 'sheet' | 'deck' | 'robot'
  readonly write: (job: Job, deck: Target['deck'], file: string) => Promise<string | Uint8Array>
}

const tables = () => Promise.all([import('../export/tables.ts'), import('../export/tables-columns.ts')])

export const writers: Readonly<Record<string, Writer>> = {
  svg: { each: 'sheet', write: async (job, deck) => svg(job.drawing(deck), job.pens) },
  dxf: { each: 'sheet', write: async (job, deck) => dxf(job.drawing(deck), { version: job.version }) },
  pdf: {
    each: 'robot',
    write: async ({ problem, placements, deck, paper, parts, options, others, laid, checkList }) => {
      const { PdfError, pdfPages } = await import('../export/pdf.ts')
      const list = parts === undefined || parts.includes('before-power') ? await checkList() : undefined
      try {
        const { asMade } = options
        return await pdfPages(problem, placements, {
          paper,
          others,
          ...(laid === undefined ? {} : { laid }),
          ...(list === undefined ? {} : { checkList: list }),
          ...(parts === undefined ? {} : { parts }),
          ...(asMade === undefined ? {} : { asMade }),
          ...(deck === undefined ? {} : { deck }),
        })
      } catch (error) {
        throw error instanceof PdfError ? new Refused(error.message) : error
      }
    },
  },
  drill: {
    each: 'deck',
    write: async ({ problem, placements }, deck) => {
      const [{ drillDatum, drillTable }, { drillCsv }] = await tables()
      const d = deck as number
      return drillCsv(drillTable(problem, placements, d), drillDatum(problem, d))
    },
  },
  hardware: {
    each: 'robot',
    write: async ({ problem, placements }) => {
      const [{ hardwareList }, { hardwareCsv }] = await tables()
      return hardwareCsv(hardwareList(problem, placements))
    },
  },
  wires: {
    each: 'robot',
    write: async ({ problem, placements, others, laid }) => {
      const [{ wireCutList }, { wireCsv }] = await tables()
      return wireCsv(wireCutList(problem, placements, others, laid))
    },
  },
  bill: {
    each: 'robot',
    write: async ({ problem, placements }) => {
      const [{ billOfItems }, { billCsv }] = await tables()
      return billCsv(billOfItems(problem, placements))
    },
  },
  headers: {
    each: 'robot',
    write: async ({ problem, placements }) => {
      const [{ headerPins }, { headerCsv }] = await tables()
      return headerCsv(headerPins(problem, placements))
    },
  },
  gltf: {
    each: 'robot',
    write: async ({ problem, placements, laid = [] }, _, file) => {
      const { gltf, gltfText } = await import('../export/gltf.ts')
      return (/\.gltf$/i.test(file) ? gltfText : gltf)(problem, placements, { laid })
    },
  },
  png: {
    each: 'robot',
    write: async ({ problem, placements, laid = [], deck }) =>
      (await import('../export/picture.ts')).planPng(problem, placements, {
        laid,
        ...(deck === undefined ? {} : { deck }),
      }),
  },
  'png-3d': {
    each: 'robot',
    write: async ({ problem, placements, laid = [] }) =>
      (await import('../export/picture-round.ts')).roundPng(problem, placements, { laid }),
  },
}

/** A writer's reason, in words for the user, why it cannot. */
class Refused extends Error {}

export function jobOf(
  given: Given,
  asked: Asked,
  problem: Problem,
  placements: readonly Placement[],
  others: readonly OtherLayout[],
  laid: readonly LaidLead[] | undefined,
  checkList: Job['checkList'],
): Job {
  const drawings = new Map<Target['deck'], Template>()
  const only = given.text('deck')
  return {
    ...asked,
    deck: only === undefined ? undefined : problem.decks.findIndex((d) => d.id === only),
    problem,
    placements,
    others,
    laid,
    checkList,
    drawing: (deck) => {
      const drawn =
        drawings.get(deck) ??
        (deck === 'all'
          ? sheet(problem, placements, asked.options)
          : template(problem, placements, deck, asked.options))
      drawings.set(deck, drawn)
      return drawn
    },
    refusal: (option, error) => {
      if (error instanceof OffsetError) return `--kerf: found ${given.text('kerf')}, expected less: ${error.message}`
      if (error instanceof MergeError) return `${given.operands[0]}: ${error.message}, expected them apart`
      return error instanceof Refused ? `--${option}: ${error.message}` : undefined
    },
  }
}
