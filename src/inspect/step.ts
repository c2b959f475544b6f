/** One step of the check list before power. */
export interface Step {
  readonly text: string
  /** Ids of the items, wires, exits, nets and decks that it names. */
  readonly items: readonly string[]
  readonly why?: string
}

export const step = (text: string, items: readonly string[] = [], why?: string): Step => ({
  text,
  items: [...new Set(items)],
  ...(why === undefined ? {} : { why }),
})
