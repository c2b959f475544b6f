/** How finely a canvas is drawn: by the processor with one pixel a pixel and no smooth edges, which would take as long again as all else. */
export const fineness = (
  slow: boolean,
): { readonly dpr: number | [number, number]; readonly gl: { readonly antialias: boolean; readonly alpha: true } } => ({
  dpr: slow ? 1 : [1, 2],
  gl: { antialias: !slow, alpha: true },
})
