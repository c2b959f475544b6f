/** The linear programme that slides bodies: what it makes of layouts that were found without a thought of wires. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { check, figures, solve } from '../../solver/index.ts'
import { polish } from '../../solver/polish.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { problemOf } from '../published/project.ts'
import { LONG } from './oracle/mixes.ts'

describe('polishing', () => {
  it.each(['20 on 2, 1', ...(LONG ? ['20 on 2, 4', '30 on 3, 2'] : [])])(
    '%s: bodies slide to less wire, and keep every rule',
    (name) => {
      const p = problemOf(benchDecks().find((d) => d.name === name)!.text)
      const found = solve(aiming(p, ['free-tie-points']), { steps: LONG ? 8000 : 5000 })
      if (!('placements' in found)) throw new Error(found.status)
      const before = figures(p, found.placements)
      const after = polish(p, compile(p), found.placements, before.wireLength, () => true)
      expect(after).toBeDefined()
      const { placements, value } = after!
      expect(check(p, placements)).toEqual([])
      expect(figures(p, placements).wireLength).toBe(value)
      expect(value).toBeLessThan(0.995 * before.wireLength)
      // It slides: nobody changes deck, turn or host, and nobody comes or goes.
      const kept = (list: typeof placements) => list.map(({ item, deck, turn, host }) => ({ item, deck, turn, host }))
      expect(kept(placements)).toEqual(kept(found.placements))
      // The last word is the caller's.
      expect(polish(p, compile(p), found.placements, before.wireLength, () => false)).toBeUndefined()
    },
  )
})
