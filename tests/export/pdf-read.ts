/** Reads a PDF by a renderer that is not ours: sizes, words, and patches of ink of one colour. */
import { PDFiumLibrary } from '@hyzyla/pdfium'
import { type Blob, blobs } from './raster.ts'

export interface ReadPage {
  /** Points. */
  readonly width: number
  readonly height: number
  readonly text: string
  /** Patches of this colour (`#rrggbb`) on white, mm from the page's lower left; black takes every grey. `dpi` counts the first time. */
  readonly blobs: (colour: string, dpi?: number) => Promise<Blob[]>
}

/** One for all: it does not stand being started again and again. */
let library: ReturnType<typeof PDFiumLibrary.init> | undefined

/** Opens the bytes, hands over the pages, and lets go of them again. */
export async function reading<T>(bytes: Uint8Array, use: (pages: readonly ReadPage[]) => Promise<T>): Promise<T> {
  library ??= PDFiumLibrary.init()
  const document = await (await library).loadDocument(bytes)
  const pages = [...document.pages()].map((page): ReadPage => {
    const { originalWidth: width, originalHeight: height } = page.getOriginalSize()
    // A page can be rendered once.
    let image: ReturnType<typeof page.render> | undefined
    return {
      width,
      height,
      text: page.getText(),
      blobs: async (colour, dpi = 254) => {
        image ??= page.render({ scale: dpi / 72, render: 'bitmap' })
        const { data, width: across, height: down } = await image
        const ink = cover(data, across, down, colour)
        // The renderer makes the page whole points, then whole pixels: how many a millimetre has differs along x and y.
        const [sx, sy] = [((width / 72) * 25.4) / across, ((height / 72) * 25.4) / down]
        return blobs({ width: across, height: down, perMm: 1, ink }).map((b) => ({
          x: b.x * sx,
          y: b.y * sy,
          middle: { x: b.middle.x * sx, y: b.middle.y * sy },
          width: b.width * sx,
          height: b.height * sy,
        }))
      },
    }
  })
  try {
    return await use(pages)
  } finally {
    document.destroy()
  }
}

/** How much of each pixel is covered: its distance from white along the colour, none where it points another way. */
function cover(data: Uint8Array, width: number, height: number, colour: string): Float32Array {
  const [r, g, b] = [1, 3, 5].map((i) => 255 - Number.parseInt(colour.slice(i, i + 2), 16)) as [number, number, number]
  const length = Math.hypot(r, g, b)
  const ink = new Float32Array(width * height)
  for (let i = 0; i < ink.length; i++) {
    const [x, y, z] = [255 - data[4 * i]!, 255 - data[4 * i + 1]!, 255 - data[4 * i + 2]!]
    const far = Math.hypot(x, y, z)
    if (far < 4) continue
    const along = (x * r + y * g + z * b) / length
    if (along / far > 0.985) ink[i] = Math.min(1, along / length)
  }
  return ink
}
