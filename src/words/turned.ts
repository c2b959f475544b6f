/** By quarters, as seen from above: anticlockwise is to the left. */
export const TURNED = [
  'not turned',
  'turned a quarter to the left',
  'turned half round',
  'turned a quarter to the right',
] as const
