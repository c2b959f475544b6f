/// <reference types="vite/client" />
/**
 * Packing instances of the literature (tests/fixtures/packing) as project files: one unit is one millimetre, the sheet is the deck,
 * every piece an optional item that is stuck down and may not turn.
 */
import cgcut1 from '../fixtures/packing/cgcut1.json'
import gcut1 from '../fixtures/packing/gcut1.json'
import gcut2 from '../fixtures/packing/gcut2.json'
import ngcut1 from '../fixtures/packing/ngcut1.json'
import ngcut2 from '../fixtures/packing/ngcut2.json'
import ngcut3 from '../fixtures/packing/ngcut3.json'
import ngcut4 from '../fixtures/packing/ngcut4.json'
import ngcut5 from '../fixtures/packing/ngcut5.json'
import ngcut6 from '../fixtures/packing/ngcut6.json'
import csv from './optima.csv?raw'

export interface Instance {
  readonly name: string
  readonly sheet: { readonly w: number; readonly h: number }
  readonly items: readonly { readonly w: number; readonly h: number; readonly copies: number; readonly value: number }[]
}

export const instances: readonly Instance[] = [ngcut1, ngcut2, ngcut3, ngcut4, ngcut5, ngcut6, cgcut1, gcut1, gcut2]

/** Published optima, from a file of their own: what is asked must not carry its answer. */
export function publishedOptima(): Map<string, { optimum: number; kind: string; source: string }> {
  const rows = csv.trim().split(/\r?\n/).slice(1)
  return new Map(
    rows.map((row) => {
      const m = /^([^,]+),(\d+),([^,]+),"(.+)"$/.exec(row)
      if (!m) throw new Error(`optima.csv: cannot read ${row}`)
      return [m[1]!, { optimum: Number(m[2]), kind: m[3]!, source: m[4]! }]
    }),
  )
}

/** The instance as the text of a project file. */
export function projectText(instance: Instance): string {
  const { w, h } = instance.sheet
  return JSON.stringify({
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: instance.name,
    settings: { grid: 1 },
    decks: [{ id: 'sheet', z: 0, thickness: 1, outline: { rect: [0, 0, w, h] } }],
    footprints: instance.items.map((p, k) => ({
      format: 'deckwright-footprint',
      version: 1,
      id: `piece-${k + 1}`,
      name: `piece ${k + 1}`,
      source: 'a rectangle of a published packing instance',
      kind: 'part',
      body: { width: p.w, depth: p.h, height: 1 },
      mount: { kind: 'adhesive' },
    })),
    items: instance.items.map((p, k) => ({
      id: `p${k + 1}`,
      footprint: `piece-${k + 1}`,
      count: p.copies,
      required: false,
      value: p.value,
      turns: [0],
    })),
    objective: ['optional-value'],
  })
}
