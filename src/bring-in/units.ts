/** Units of length that drawings are made in. One inch is 25.4 mm by definition (ISO 80000-3, from memory). */

/** mm in one of each. `px` and `pt`, `pc` as style sheets for the web define them: 96, 72 and 6 to the inch. */
export const UNITS = {
  mm: 1,
  cm: 10,
  m: 1000,
  um: 0.001,
  in: 25.4,
  ft: 304.8,
  mil: 0.0254,
  px: 25.4 / 96,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  q: 0.25,
} as const satisfies Readonly<Record<string, number>>

export type Unit = keyof typeof UNITS

/** Those that a person is asked for. */
export const ASKED = ['mm', 'cm', 'm', 'um', 'in', 'ft', 'mil', 'px', 'pt'] as const satisfies readonly Unit[]

export const isUnit = (text: string): text is Unit => Object.hasOwn(UNITS, text)

/**
 * The header variable $INSUNITS of a DXF file: its number to mm in one drawing unit. 0 says that there is none. The numbers are
 * those of the published reference to that variable, read there.
 */
export const DXF_UNITS: ReadonlyMap<number, { readonly name: string; readonly mm: number }> = new Map(
  (
    [
      [1, 'in', 25.4],
      [2, 'ft', 304.8],
      [4, 'mm', 1],
      [5, 'cm', 10],
      [6, 'm', 1000],
      [8, 'microinch', 0.0000254],
      [9, 'mil', 0.0254],
      [10, 'yard', 914.4],
      [13, 'um', 0.001],
      [14, 'dm', 100],
    ] as const
  ).map(([n, name, mm]) => [n, { name, mm }]),
)

/** `12.5mm` → its number and unit, which is empty where there is none; undefined for what is no length. */
export function readLength(text: string): { readonly value: number; readonly unit: string } | undefined {
  const parts = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([a-zA-Z]*|%)\s*$/.exec(text)
  const value = Number(parts?.[1])
  return parts && Number.isFinite(value) ? { value, unit: parts[2]!.toLowerCase() } : undefined
}
