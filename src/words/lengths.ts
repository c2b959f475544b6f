/** Fields for lengths. */
export const lengths = {
  wrong: (found: string, expected: string): string =>
    `${found === 'nothing' ? 'Nothing stands here' : `This is ${found}`}; needed is ${expected}.`,
  /** Beside a field whose text was typed in another unit than mm. */
  means: (mm: string): string => `That is ${mm} mm.`,
  unit: 'mm',
}
