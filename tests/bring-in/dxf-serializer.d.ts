declare module '@jscad/dxf-serializer' {
  export function serialize(options: { geom2To?: 'lwpolyline' | 'polyline' }, ...objects: unknown[]): string[]
}
