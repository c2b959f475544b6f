/** Fields for lengths. */
export const lengths = {
  /** `found` undefined: nothing was typed. */
  wrong: (found: string | undefined, expected: string): string =>
    `${found === undefined ? 'Nothing stands here' : `This is ${found}`}; needed is ${expected}.`,
  /** Beside a field whose text was typed in another unit than mm. */
  means: (mm: string): string => `That is ${mm} mm.`,
  wrongNumber: (found: string, least: number, most: number, whole: boolean): string =>
    `${found === '' ? 'Nothing stands here' : `This is “${found}”`}; needed is a ${whole ? 'whole ' : ''}number from ${least} to ${most}.`,
  unit: 'mm',
}
