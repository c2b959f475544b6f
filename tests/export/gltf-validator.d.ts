declare module 'gltf-validator' {
  interface Report {
    readonly issues: {
      readonly numErrors: number
      readonly numWarnings: number
      readonly numInfos: number
      readonly messages: readonly { readonly code: string; readonly message: string; readonly pointer?: string }[]
    }
    readonly info: { readonly totalTriangleCount: number }
  }
  export function validateBytes(bytes: Uint8Array, options?: Record<string, unknown>): Promise<Report>
  export function validateString(text: string, options?: Record<string, unknown>): Promise<Report>
}
