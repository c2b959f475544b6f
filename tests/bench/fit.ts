/** Does everything fit? 10 to 23 required pieces on 20 × 20, to a layout or a conflict. */
import { solve } from '../../solver/index.ts'
import { fits, fitsKnown, fitText } from '../published/fits.ts'
import { problemOf } from '../published/project.ts'
import { type FitAnswer, fitByCpSat, fitByMilp } from './reference.ts'
import { geometric, ms, mustBeSound, type Section, table, yes } from './timing.ts'

export const fit: Section = {
  name: 'fits',
  run: async ({ quick }, say) => {
    const seconds = quick ? 3 : 10
    const known = fitsKnown()
    const all = fits().filter((_, k) => !quick || k % 3 === 0)
    const rows: string[][] = []
    const times = { ours: [] as number[], cp: [] as number[] }
    let decided = 0
    for (const f of all) {
      const p = problemOf(fitText(f))
      const t = performance.now()
      const r = solve(p, { time: seconds * 1000 })
      const took = performance.now() - t
      mustBeSound(f.name, p, r)
      const ours = r.status === 'infeasible' ? 'no' : r.status === 'unknown' ? 'not known' : 'yes'
      const cp = await fitByCpSat(f, seconds)
      const milp = quick ? undefined : await fitByMilp(f, seconds)
      const word = (a: FitAnswer): string => (a.fits === undefined ? 'not known' : a.fits ? 'yes' : 'no')
      const { fits: truth, how } = known.get(f.name) ?? { fits: 'not known', how: 'nobody has decided it' }
      for (const [who, says] of [
        ['our solver', ours],
        ['CP-SAT', word(cp)],
        ['the MILP', milp ? word(milp) : 'not known'],
      ] as const)
        if (says !== 'not known' && truth !== 'not known' && says !== truth)
          throw new Error(`${f.name}: ${who} says ${says}, known is ${truth}`)
      const whole = r.status !== 'infeasible' || r.conflictIrreducible
      const done = ours !== 'not known' && whole
      if (done) decided++
      times.ours.push(took)
      times.cp.push(cp.ms)
      const spare = 100 - f.pieces.reduce((s, q) => s + q.w * q.h, 0) / 4
      rows.push([
        f.name,
        `${f.pieces.length}`,
        `${spare.toFixed(1)} %`,
        truth,
        how,
        ours,
        r.status === 'infeasible' ? `${r.conflict.length} rules${whole ? '' : ', not shrunk to the end'}` : '–',
        ms(took),
        yes(done),
        `${word(cp)}, ${ms(cp.ms)}`,
        milp ? `${word(milp)}, ${ms(milp.ms)}` : 'left out',
      ])
      say(rows.at(-1)!.join(' | '))
    }
    const share = `${decided} of ${all.length} decided in ${seconds} s, conflict included (wanted: nine in ten in 10 s); none wrong. Geometric means: ours ${ms(geometric(times.ours))} ms, CP-SAT ${ms(geometric(times.cp))} ms (without conflicts). First runs, not repeated.`
    const head = ['instance', 'pieces', 'spare', 'fits', 'known from', 'ours', 'conflict', 'ours, ms', 'decided']
    return `## Does everything fit on 20 × 20?\n\n${share}\n\n${table([...head, 'CP-SAT, ms', 'MILP, ms'], rows)}`
  },
}
