/** How a body may stand, for what is said of it: a part that plugs in, on a board, though it need not where conflicts are explained. */
import type { Body, Mode } from '../search/model.ts'

export function standing({ modes }: Body): readonly Mode[] {
  const seated = modes.filter((m) => m.host >= 0)
  return seated.length > 0 ? seated : modes
}
