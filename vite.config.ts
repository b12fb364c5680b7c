import { defineConfig } from 'vite'
import { prompts } from './prompts.config.ts'
import { versions } from './versions.config.ts'

/** The Node home, and the registry alone: loading that checks every sentence of prompts/. */
export default defineConfig({
  plugins: [prompts(), versions()],
  // Of all of mathjs only its unit class is used; loading the rest was half of the time that a start took.
  ssr: { noExternal: ['mathjs'] },
  build: {
    ssr: true,
    target: 'node20',
    outDir: 'dist',
    rollupOptions: {
      input: {
        server: 'src/server.ts',
        'sheet-printer': 'src/sheet-pdf/sheet-printer.ts',
        registry: 'src/questions/registry.ts',
        backup: 'src/jobs/log/backup-command.ts',
        demo: 'src/demo.ts',
        restore: 'src/jobs/log/restore-command.ts',
        pair: 'src/doors/pair-command.ts',
        devices: 'src/doors/devices-command.ts',
      },
    },
  },
})
