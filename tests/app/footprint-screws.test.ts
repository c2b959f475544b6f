import { describe, expect, it } from 'vitest'
import { screwChoices, screwedBy } from '../../src/panels/footprint-screws.ts'

const hole = (screw?: string) => ({ id: 'h1', at: [3, 3], diameter: 3.1, ...(screw === undefined ? {} : { screw }) })

describe('the screw of a hole', () => {
  it('is chosen from each thread once, and from none', () => {
    const ours = ['M2', 'M2.5', 'M3', 'M4', 'M5']
    for (const screw of [undefined, 'M3'])
      expect(screwChoices(screw).map(([, label]) => label)).toEqual(['no thread', ...ours])
    // one that a file brought along can be chosen again
    expect(screwChoices('No. 4').map(([value]) => value)).toEqual(['', 'No. 4', ...ours])
    for (const screw of [undefined, 'M3', 'No. 4']) {
      const values = screwChoices(screw).map(([value]) => value)
      expect(new Set(values).size).toBe(values.length)
      expect(values).toContain(screw ?? '')
    }
  })

  it('makes the hole fit it where it is known, and else only names it', () => {
    expect(screwedBy(hole('M3'), '')).toEqual(hole())
    // ISO 273, medium: 4.5 mm for M4; its plain washer, ISO 7089, is 9 mm wide (as in hardware-data.ts)
    expect(screwedBy(hole('M3'), 'M4')).toEqual({ ...hole('M4'), diameter: 4.5, land: 9 })
    expect(screwedBy(hole(), 'No. 4')).toEqual(hole('No. 4'))
  })
})
