/**
 * The laid-out robot as glTF 2.0: metres, +y up, +z to the front, −x to the right (Khronos glTF 2.0 specification, 3.4
 * "Coordinate system and units"). Under one root node, which turns our frame (z up, y to the front) into that one, every
 * deck, item and wire is a node of its own; an item's node is called by the item's id. Sweeps, corridors and reserved
 * stacks are translucent nodes inside their item's, so that a viewer can hide them.
 */
import { Document, type Material, type Node, type Scene, WebIO } from '@gltf-transform/core'
import type { Placement, Problem } from '../../solver/index.ts'
import type { LaidLead } from '../model/index.ts'
import type { Mesh } from './gltf-mesh.ts'
import { type Extra, type Part, partsOf, type Role } from './gltf-parts.ts'
import { materialOf } from './gltf-roles.ts'
import { rgb, solidColours } from './picture-colours.ts'
import { picture as says } from './words.ts'

export interface GltfOptions {
  /** Roles that are left away; default none. */
  readonly without?: readonly Extra[]
  /** How leads lie round what is in their way; missing = straight. */
  readonly laid?: readonly LaidLead[]
}

/** Half a turn about the line between our y and z: x → −x, y → z, z → y. */
const UPRIGHT: [number, number, number, number] = [0, Math.SQRT1_2, Math.SQRT1_2, 0]

/** The binary file (.glb). The same layout gives the same bytes. */
export async function gltf(
  problem: Problem,
  placements: readonly Placement[],
  options: GltfOptions = {},
): Promise<Uint8Array> {
  return new WebIO().writeBinary(documentOf(problem, placements, options))
}

/** The text file (.gltf), its buffer inside it. */
export async function gltfText(
  problem: Problem,
  placements: readonly Placement[],
  options: GltfOptions = {},
): Promise<string> {
  const { json, resources } = await new WebIO().writeJSON(documentOf(problem, placements, options), {
    basename: 'robot',
  })
  for (const buffer of json.buffers ?? []) {
    const bytes = buffer.uri === undefined ? undefined : resources[buffer.uri]
    if (bytes) buffer.uri = `data:application/octet-stream;base64,${base64(bytes)}`
  }
  return `${JSON.stringify(json, null, 1)}\n`
}

function documentOf(problem: Problem, placements: readonly Placement[], options: GltfOptions): Document {
  const doc = new Document()
  doc.getRoot().getAsset().generator = 'Deckwright'
  const buffer = doc.createBuffer()
  const materials = new Map<Role, Material>()
  const material = (role: Role): Material => {
    const known = materials.get(role)
    if (known) return known
    const { colour, opacity } = materialOf[role]
    const [r, g, b] = rgb(solidColours.light[colour]).map(linear) as [number, number, number]
    const made = doc
      .createMaterial(role)
      .setBaseColorFactor([r, g, b, opacity])
      .setMetallicFactor(0)
      .setRoughnessFactor(0.9)
    if (opacity < 1) made.setAlphaMode('BLEND')
    materials.set(role, made)
    return made
  }
  const mesh = (part: Part) => {
    const { positions, indices } = arrays(part.mesh)
    const position = doc.createAccessor().setType('VEC3').setArray(positions).setBuffer(buffer)
    const index = doc.createAccessor().setType('SCALAR').setArray(indices).setBuffer(buffer)
    const primitive = doc
      .createPrimitive()
      .setAttribute('POSITION', position)
      .setIndices(index)
      .setMaterial(material(part.role))
    return doc.createMesh(part.name).addPrimitive(primitive)
  }
  const hang = (parent: Node | Scene, part: Part): void => {
    const [x, y, z] = part.at
    const node = doc.createNode(part.name).setMesh(mesh(part))
    node.setTranslation([x / 1000, y / 1000, z / 1000]).setExtras({ role: part.role })
    parent.addChild(node)
    for (const child of part.parts) hang(node, child)
  }
  const scene = doc.createScene(problem.name)
  doc.getRoot().setDefaultScene(scene)
  const root = doc.createNode(says.title(problem.name, problem.variant)).setRotation(UPRIGHT)
  scene.addChild(root)
  for (const part of partsOf(problem, placements, options.without, options.laid)) hang(root, part)
  return doc
}

function arrays(mesh: Mesh): { positions: Float32Array; indices: Uint16Array | Uint32Array } {
  const positions = new Float32Array(mesh.points.length * 3)
  mesh.points.forEach((p, i) => {
    for (let k = 0; k < 3; k++) positions[3 * i + k] = p[k]! / 1000
  })
  const flat = mesh.triangles.flat()
  return { positions, indices: mesh.points.length > 65_535 ? new Uint32Array(flat) : new Uint16Array(flat) }
}

/** sRGB 0–255 to linear 0–1 (IEC 61966-2-1), in which glTF gives its colour factors. */
function linear(value: number): number {
  const v = value / 255
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
}

function base64(bytes: Uint8Array): string {
  let text = ''
  for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000))
  return btoa(text)
}
