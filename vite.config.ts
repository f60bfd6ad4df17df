import react from '@vitejs/plugin-react'
import { VitePWA } from 'vite-plugin-pwa'
import { defineConfig } from 'vitest/config'
import { clientTemplatePlugin } from './src/cli/clientTemplate.ts'

/** The reader of IFC is larger than the view, and few need it: it is kept from the first time that it is used. */
const IFC = [{ urlPattern: /\/assets\/(?:ifc\.worker-|web-ifc-)[^/]*$/, handler: 'CacheFirst' as const, options: { cacheName: 'ifc-reader', expiration: { maxEntries: 4 } } }]

/** Every file of the view is kept in the browser; a newer version waits until it is asked for, so that no window loses the files it runs on. */
const offline = VitePWA({
  registerType: 'prompt',
  injectRegister: false,
  manifest: {
    id: '/', name: 'Joistway', short_name: 'Joistway', lang: 'en-GB', display: 'standalone', start_url: './', theme_color: '#fffdf8', background_color: '#f3eee4',
    description: 'Will every duct go in between the joists? A mock-up of the void that answers to the millimetre.',
    icons: [
      { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
      { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
      { src: 'icon-full-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
    ],
  },
  workbox: { globPatterns: ['**/*.{js,css,html,png,svg,json,woff2}'], globIgnores: ['**/ifc.worker-*'], runtimeCaching: IFC, clientsClaim: true, cleanupOutdatedCaches: true, maximumFileSizeToCacheInBytes: 8 * 1024 * 1024 },
})

export default defineConfig({
  root: 'src/app',
  publicDir: 'offline/public',
  plugins: [clientTemplatePlugin(), react(), offline],
  build: { outDir: '../../dist', emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 1500 },
  worker: { format: 'es' },
  server: { port: 4170 },
  preview: { port: 4173 },
  test: {
    root: '.',
    testTimeout: 120_000,
    hookTimeout: 240_000,
    maxWorkers: 2,
    // two, so that the view is built and served only when browser tests are picked
    projects: [
      { extends: true, test: { name: 'plain', include: ['tests/**/*.test.{ts,tsx}'], exclude: ['tests/browser/**'] } },
      { extends: true, test: { name: 'browser', include: ['tests/browser/**/*.test.ts'], globalSetup: 'tests/setup/buildApp.ts' } },
    ],
  },
})
