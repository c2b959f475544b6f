/** What the bundler makes of a font: its bytes in a `data:` URL. */
declare module '*.ttf?inline' {
  const url: string
  export default url
}
