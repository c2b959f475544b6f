/**
 * Reads a .glb by the specification alone (Khronos glTF 2.0, 4.4 "Binary glTF Layout" and 3.5.3 "Transformations"), with
 * nothing of the writer, and gives every node's triangles back in the decks' millimetres.
 */
export interface ReadNode {
  readonly name: string
  readonly parent: string | undefined
  readonly material: { readonly alphaMode?: string; readonly name?: string }
  /** In the decks' frame, mm. */
  readonly points: readonly (readonly [number, number, number])[]
  /** As they stand in the file: metres, y up. */
  readonly world: readonly (readonly [number, number, number])[]
  readonly triangles: readonly (readonly [number, number, number])[]
}

type V3 = [number, number, number]
interface Json {
  readonly asset: { readonly version: string; readonly generator: string }
  readonly scenes: { readonly nodes: number[] }[]
  readonly nodes: {
    readonly name: string
    readonly children?: number[]
    readonly mesh?: number
    readonly translation?: V3
    readonly rotation?: [number, number, number, number]
  }[]
  readonly meshes: { readonly primitives: { attributes: { POSITION: number }; indices: number; material: number }[] }[]
  readonly accessors: { bufferView: number; byteOffset?: number; componentType: number; count: number }[]
  readonly bufferViews: { byteOffset?: number; byteStride?: number }[]
  readonly materials: { readonly alphaMode?: string; readonly name?: string }[]
}

export function readGlb(bytes: Uint8Array): { readonly json: Json; readonly nodes: readonly ReadNode[] } {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (view.getUint32(0, true) !== 0x46546c67 || view.getUint32(4, true) !== 2) throw new Error('no glTF 2 file')
  if (view.getUint32(8, true) !== bytes.byteLength) throw new Error('wrong length')
  const size = view.getUint32(12, true)
  const json = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + size))) as Json
  const bin = 20 + size + 8
  const numbers = (accessor: number, width: number): number[] => {
    const a = json.accessors[accessor]!
    const v = json.bufferViews[a.bufferView]!
    const start = bin + (v.byteOffset ?? 0) + (a.byteOffset ?? 0)
    const [each, read] = (
      {
        5123: [2, (o: number) => view.getUint16(o, true)],
        5125: [4, (o: number) => view.getUint32(o, true)],
        5126: [4, (o: number) => view.getFloat32(o, true)],
      } as const
    )[a.componentType as 5123]!
    const stride = v.byteStride ?? each * width
    return Array.from({ length: a.count * width }, (_, i) =>
      read(start + Math.floor(i / width) * stride + (i % width) * each),
    )
  }
  const threes = (flat: readonly number[]): V3[] =>
    Array.from({ length: flat.length / 3 }, (_, i) => [flat[3 * i]!, flat[3 * i + 1]!, flat[3 * i + 2]!])
  const nodes: ReadNode[] = []
  const walk = (index: number, parent: string | undefined, put: (p: V3) => V3): void => {
    const node = json.nodes[index]!
    const here = (p: V3): V3 => {
      const turned = node.rotation ? rotated(node.rotation, p) : p
      const [x, y, z] = node.translation ?? [0, 0, 0]
      return put([turned[0] + x, turned[1] + y, turned[2] + z])
    }
    if (node.mesh !== undefined) {
      const primitive = json.meshes[node.mesh]!.primitives[0]!
      const world = threes(numbers(primitive.attributes.POSITION, 3)).map(here)
      nodes.push({
        name: node.name,
        parent,
        material: json.materials[primitive.material]!,
        world,
        // glTF: +y up, +z to the front, −x to the right.
        points: world.map(([x, y, z]): V3 => [-x * 1000, z * 1000, y * 1000]),
        triangles: threes(numbers(primitive.indices, 1)),
      })
    }
    for (const child of node.children ?? []) walk(child, node.name, here)
  }
  for (const index of json.scenes[0]!.nodes) walk(index, undefined, (p) => p)
  return { json, nodes }
}

function rotated([qx, qy, qz, qw]: readonly [number, number, number, number], [x, y, z]: V3): V3 {
  const [tx, ty, tz] = [2 * (qy * z - qz * y), 2 * (qz * x - qx * z), 2 * (qx * y - qy * x)]
  return [x + qw * tx + qy * tz - qz * ty, y + qw * ty + qz * tx - qx * tz, z + qw * tz + qx * ty - qy * tx]
}

/** Least and greatest corner, mm. */
export function boxOfNode(node: ReadNode): { readonly min: V3; readonly max: V3 } {
  const of = (pick: (...v: number[]) => number): V3 =>
    [0, 1, 2].map((k) => node.points.reduce((v, p) => pick(v, p[k]!), node.points[0]![k]!)) as V3
  return { min: of(Math.min), max: of(Math.max) }
}

/** Signed volume by the divergence theorem, mm³: positive when all triangles face outward. */
export function volumeOf(node: ReadNode): number {
  return node.triangles.reduce((sum, [i, j, k]) => {
    const [a, b, c] = [node.points[i]!, node.points[j]!, node.points[k]!]
    const det =
      a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])
    return sum + det / 6
  }, 0)
}

/** Sides of triangles that have no single neighbour running the other way. Closed and consistent = none. */
export function openSides(triangles: readonly (readonly [number, number, number])[]): string[] {
  const count = new Map<string, number>()
  for (const [a, b, c] of triangles)
    for (const side of [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]) count.set(side, (count.get(side) ?? 0) + 1)
  return [...count]
    .filter(([side, n]) => n !== 1 || count.get(side.split(' ').reverse().join(' ')) !== 1)
    .map(([s]) => s)
}
