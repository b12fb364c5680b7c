import { defineConfig } from 'vitest/config'
import { prompts } from './prompts.config.ts'
import { versions } from './versions.config.ts'

export default defineConfig({
  plugins: [prompts(), versions()],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
})
