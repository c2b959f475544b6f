/** Whether a part's name says its size already, so that it is not said twice. */

/** `width`, `depth`: mm. */
export const saysSize = (name: string | undefined, width: number, depth: number): boolean =>
  [...(name ?? '').matchAll(/(\d+(?:\.\d+)?) × (\d+(?:\.\d+)?)/g)].some(([, a, b]) => {
    const said = [Number(a), Number(b)].sort((p, q) => p - q)
    const is = [width, depth].sort((p, q) => p - q)
    return said.every((s, i) => Math.abs(s - is[i]!) < 0.005)
  })
