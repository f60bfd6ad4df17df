/** Built by the plugin in vite.config.ts from src/client. */
declare module '*?template' {
  const template: import('#sheets/client/clientFile.ts').ClientTemplate
  export default template
}
