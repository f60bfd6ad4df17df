import react from '@vitejs/plugin-react'
import { defineConfig } from 'vitest/config'

export default defineConfig({
  root: 'src/app',
  publicDir: false,
  plugins: [react()],
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
