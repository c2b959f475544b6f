/** Learnt clauses, and which of them are worth keeping (Audemard & Simon 2009: few levels first). */

export interface Learnt {
  /** Where it is among all clauses. */
  at: number
  readonly size: number
  readonly lbd: number
  activity: number
  dead: boolean
  /** As it was logged, where a proof is. */
  readonly logged: Int32Array | undefined
}

/** The more useful half of the learnt clauses; the others are marked dead. */
export function bestHalf(learnts: readonly Learnt[]): Learnt[] {
  const keep: Learnt[] = []
  const rest: Learnt[] = []
  for (const c of learnts) (c.lbd <= 2 || c.size === 2 ? keep : rest).push(c)
  rest.sort((a, b) => a.lbd - b.lbd || b.activity - a.activity)
  rest.forEach((c, i) => {
    if (i < rest.length / 2) keep.push(c)
    else c.dead = true
  })
  return keep
}
