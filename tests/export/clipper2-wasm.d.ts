/** The package's own types stand where its `package.json` does not point. */
declare module 'clipper2-wasm' {
  import type { MainModule, PathsD } from 'clipper2-wasm/dist/clipper2z'

  export type { MainModule, PathsD }
  export default function factory(options: { readonly wasmBinary: Uint8Array }): Promise<MainModule>
}
