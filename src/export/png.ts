/** Pixels to a PNG file that says how large it is (W3C PNG specification, third edition, 11.3.4.3 "pHYs"). */
import { encode } from 'fast-png'

export interface Pixels {
  readonly width: number
  readonly height: number
  /** Red, green, blue, from the top left, 0–255. */
  readonly rgb: Uint8Array
}

const HEAD = 8 + 25

/** `perMm`: pixels to the millimetre of what is drawn, kept in the file in whole pixels to the metre. */
export function png(pixels: Pixels, perMm: number): Uint8Array {
  const { width, height, rgb } = pixels
  const file = encode({ width, height, data: rgb, channels: 3, depth: 8 }, { zlib: { level: 6 } })
  const chunk = new Uint8Array(21)
  const view = new DataView(chunk.buffer)
  view.setUint32(0, 9)
  chunk.set([0x70, 0x48, 0x59, 0x73], 4)
  const perMetre = Math.round(perMm * 1000)
  view.setUint32(8, perMetre)
  view.setUint32(12, perMetre)
  chunk[16] = 1
  view.setUint32(17, crc(chunk.subarray(4, 17)))
  const out = new Uint8Array(file.length + chunk.length)
  // pHYs stands before the first IDAT; signature and IHDR have a fixed length.
  out.set(file.subarray(0, HEAD))
  out.set(chunk, HEAD)
  out.set(file.subarray(HEAD), HEAD + chunk.length)
  return out
}

/** CRC-32 of the PNG specification, annex D. */
function crc(bytes: Uint8Array): number {
  let c = 0xffffffff
  for (const byte of bytes) {
    c ^= byte
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
  }
  return (c ^ 0xffffffff) >>> 0
}
