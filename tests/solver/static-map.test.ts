/** The table of legal positions against counting them one by one. */
import { expect, it } from 'vitest'
import { Bitmap } from '../../solver/search/static-map.ts'
import { rng } from './oracle/random.ts'

it('counts the legal positions of any box, also where it keeps only a part of the map', () => {
  let kept = 0
  let asked = 0
  for (let seed = 0; seed < 600; seed++) {
    const r = rng(seed)
    const [nx, ny] = [r.int(0, 8), r.int(0, 8)]
    const share = r.next() * r.next()
    const legal = Uint8Array.from({ length: nx * ny }, () => (r.chance(share) ? 1 : 0))
    const map = new Bitmap(nx, ny, legal)
    expect(map.total).toBe(legal.reduce((a, b) => a + b, 0))
    kept += map.nx * map.ny
    asked += nx * ny
    for (let k = 0; k < 20; k++) {
      const [xl, xu, yl, yu] = [r.int(-1, 8), r.int(-1, 8), r.int(-1, 8), r.int(-1, 8)]
      let count = 0
      for (let i = Math.max(0, xl); i <= Math.min(nx - 1, xu); i++)
        for (let j = Math.max(0, yl); j <= Math.min(ny - 1, yu); j++) count += legal[i * ny + j]!
      expect(map.count(xl, xu, yl, yu), `seed ${seed}`).toBe(count)
    }
  }
  expect(kept).toBeLessThan(0.9 * asked)
})
