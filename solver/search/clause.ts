/** Clauses, given and learnt, and which learnt ones are worth keeping (Audemard & Simon 2009: few levels first). */

export interface Clause {
  lits: Int32Array
  learnt: boolean
  lbd: number
  activity: number
  dead: boolean
}

/** The more useful half of the learnt clauses; the others are marked dead. */
export function bestHalf(learnts: readonly Clause[]): Clause[] {
  const keep: Clause[] = []
  const rest: Clause[] = []
  for (const c of learnts) (c.lbd <= 2 || c.lits.length === 2 ? keep : rest).push(c)
  rest.sort((a, b) => a.lbd - b.lbd || b.activity - a.activity)
  rest.forEach((c, i) => {
    if (i < rest.length / 2) keep.push(c)
    else c.dead = true
  })
  return keep
}
