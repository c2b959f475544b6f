/** A binary glTF file read back: what it is made of, as its JSON chunk says (Khronos glTF 2.0 specification, 4.4). */

export interface SolidView {
  readonly bytes: number
  /** Names of the nodes right under the root, in the file's order. */
  readonly parts: readonly string[]
  readonly triangles: number
}

interface Gltf {
  readonly scenes: readonly { readonly nodes: readonly number[] }[]
  readonly nodes: readonly { readonly name?: string; readonly children?: readonly number[] }[]
  readonly meshes?: readonly { readonly primitives: readonly { readonly indices: number }[] }[]
  readonly accessors: readonly { readonly count: number }[]
}

export function solidView(data: Uint8Array): SolidView {
  const view = new DataView(data.buffer, data.byteOffset, data.byteLength)
  // A header of 12 bytes, then the first chunk: its length, its kind, its text.
  const length = view.getUint32(12, true)
  const file = JSON.parse(new TextDecoder().decode(data.subarray(20, 20 + length))) as Gltf
  const roots = file.scenes[0]?.nodes.flatMap((n) => file.nodes[n]?.children ?? []) ?? []
  return {
    bytes: data.length,
    parts: roots.map((n) => file.nodes[n]?.name ?? ''),
    triangles: (file.meshes ?? [])
      .flatMap((m) => m.primitives)
      .reduce((sum, p) => sum + (file.accessors[p.indices]?.count ?? 0) / 3, 0),
  }
}
