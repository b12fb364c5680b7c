import { defineConfig } from 'vite'

/** The script of the pages, as one small file. */
export default defineConfig({
  build: {
    outDir: 'dist/browser',
    target: 'es2022',
    rollupOptions: { input: { page: 'src/page.ts' }, output: { entryFileNames: '[name].js', format: 'es' } },
    modulePreload: false,
  },
})
