/**
 * The beam simulated on the written file: a renderer that knows nothing of ours draws the cut lines as wide as the beam, and
 * what is left between them is measured.
 */
import { describe, expect, it } from 'vitest'
import { mm, type Problem } from '../../solver/index.ts'
import type { TemplateOptions } from '../../src/export/drawing.ts'
import { svg, template } from '../../src/export/index.ts'
import { at, deck, item, part, problem, rect, screws } from './decks.ts'
import { only, raster } from './raster.ts'

const DPI = 1016
const BEAM = 0.2

const square: Problem = problem([deck('d', rect(0, 0, 40, 40))], [item('b', part('b', 20, 20, screws([10, 10, 3.4])))])

/** Free widths along the row in the middle of the plate, mm, from left to right: between beam and beam, blended pixels in part. */
function gaps(options: TemplateOptions): number[] {
  const t = template(square, [at(0, 10, 10)], 0, options)
  // The plate alone, as wide as the page and 2 mm high about its middle.
  const [from, high] = [t.view.y1 - 21, 2]
  const beam = only(svg(t, { cut: { colour: '#000000', width: BEAM } }), 'cut')
    .replace(/height="[^"]*" viewBox="0 0 (\d+) \d+"/, `height="${high}mm" viewBox="0 ${from} $1 ${high}"`)
    .replace('<g id="cut"', '<g id="cut" stroke-linejoin="round"')
  const r = raster(beam, DPI)
  const row = Math.floor(r.height / 2)
  const found: number[] = []
  let width = 0
  let inked = false
  for (let x = 0; x < r.width; x++) {
    const ink = r.ink[row * r.width + x]!
    if (ink > 0.999) {
      if (inked && width > 0.05) found.push(width)
      width = 0
      inked = true
    } else width += (1 - ink) / r.perMm
  }
  return found
}

describe('a beam of 0.2 mm along the lines of the file', () => {
  it('leaves 39.8 mm of a 40 mm square without kerf, and 40.0 with it', () => {
    const [plain] = gaps({})
    expect(Math.abs(plain! - (40 - BEAM))).toBeLessThan(0.01)
    const [kerfed] = gaps({ kerf: mm(BEAM) })
    expect(Math.abs(kerfed! - 40)).toBeLessThan(0.01)
  })

  it('makes a 3.4 mm hole 3.6 without kerf, and 3.4 with it, where holes are cut', () => {
    // Deck, disc that falls out, deck: the hole is the disc and the beam at both sides of it.
    const hole = (options: TemplateOptions): number => {
      const found = gaps({ laserHoles: true, ...options })
      expect(found).toHaveLength(3)
      return found[1]! + 2 * BEAM
    }
    expect(Math.abs(hole({}) - 3.6)).toBeLessThan(0.01)
    expect(Math.abs(hole({ kerf: mm(BEAM) }) - 3.4)).toBeLessThan(0.01)
  })

  it('leaves holes to the drill where nobody asked for that, kerf or not', () => {
    const t = template(square, [at(0, 10, 10)], 0, { kerf: mm(BEAM) })
    expect(t.drill).toEqual([{ kind: 'circle', cx: 20, cy: 20, r: 1.7 }])
    expect(gaps({ kerf: mm(BEAM) })).toHaveLength(1)
  })
})
