import { defineConfig } from 'vite'
import { compressed } from './compressed.config.ts'
import { prompts } from './prompts.config.ts'
import { versions } from './versions.config.ts'

/** What a phone loads: the small script of the pages, the app as a service worker, the icons. One file each. */
export default defineConfig({
  // A phone asks one thing at a time: the smallest of the library's routers does.
  resolve: { alias: [{ find: /^hono$/, replacement: 'hono/tiny' }] },
  // csv-stringify asks of its options whether they are Node's buffers; its own browser build carries a whole Buffer,
  // twice the size of the rest of it, to say no.
  define: { 'Buffer.isBuffer': 'ArrayBuffer.isView', 'Buffer.from': 'Uint8Array.from' },
  plugins: [prompts(false), versions(), compressed()],
  publicDir: 'src/pages/public',
  build: {
    outDir: 'dist/browser',
    target: 'es2022',
    rollupOptions: {
      input: { page: 'src/page.ts', phone: 'src/phone.ts' },
      output: { entryFileNames: '[name].js', format: 'es' },
    },
    chunkSizeWarningLimit: 2000,
    modulePreload: false,
  },
})
