/** Contrast of every role with what it stands on, light and dark, from the variables themselves (WCAG 2.2, 1.4.3 and 1.4.11). */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'

type Colours = ReadonlyMap<string, string>

const variables = (css: string): [string, string][] =>
  [...css.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6})\s*;/g)].map((m) => [m[1]!, m[2]!])

const css = readFileSync('src/look.css', 'utf8')
const darkBegins = css.indexOf('@media (prefers-color-scheme: dark)')
const light: Colours = new Map(variables(css.slice(0, darkBegins)))
const dark: Colours = new Map([...light, ...variables(css.slice(darkBegins))])

/** Relative luminance of sRGB, as WCAG 2.2 defines it. */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * r! + 0.7152 * g! + 0.0722 * b!
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x)
  return (high! + 0.05) / (low! + 0.05)
}

/** What is read, on what it is read. */
const TEXT: readonly (readonly [string, readonly string[]])[] = [
  ['ink', ['paper', 'sheet', 'deck-fill', 'body-fill', 'board-fill']],
  ['quiet', ['paper', 'sheet']],
  ['on-held', ['held']],
]

/** What must be told apart to understand a picture or to find a control. */
const SHAPES: readonly (readonly [string, readonly string[]])[] = [
  ['free', ['board-fill', 'sheet']],
  ['covered', ['board-fill']],
  ['body-line', ['deck-fill', 'body-fill', 'sheet']],
  ['deck-line', ['sheet', 'paper']],
  ['line-strong', ['sheet', 'paper', 'board-fill']],
  ['corridor', ['deck-fill', 'sheet']],
  ['sweep', ['deck-fill', 'sheet']],
  ['reserved', ['deck-fill', 'sheet']],
  ['warning', ['deck-fill', 'sheet', 'paper', 'body-fill', 'board-fill']],
  ['held', ['deck-fill', 'sheet', 'paper', 'body-fill', 'board-fill']],
  ['wire', ['deck-fill', 'body-fill', 'board-fill', 'sheet']],
  ['solid-edge', ['solid-deck', 'solid-body', 'solid-board']],
  ['solid-free', ['solid-board']],
  ['solid-covered', ['solid-board']],
]

const tooLittle = (colours: Colours, pairs: typeof TEXT, least: number): string[] =>
  pairs.flatMap(([over, grounds]) =>
    grounds.flatMap((ground) => {
      const ratio = contrast(colours.get(over)!, colours.get(ground)!)
      return ratio < least ? [`${over} on ${ground}: ${ratio.toFixed(2)}`] : []
    }),
  )

describe('contrast', () => {
  it('is reckoned as the standard says', () => {
    expect(contrast('#ffffff', '#000000')).toBeCloseTo(21, 9)
    // the least grey that may be read on white; one step lighter is too light (common knowledge, reckoned by hand)
    expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5)
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5)
  })

  for (const [name, colours] of [
    ['light', light],
    ['dark', dark],
  ] as const) {
    it(`is enough for every text, ${name}`, () => expect(tooLittle(colours, TEXT, 4.5)).toEqual([]))
    it(`is enough for every role, ${name}`, () => expect(tooLittle(colours, SHAPES, 3)).toEqual([]))
  }
})
