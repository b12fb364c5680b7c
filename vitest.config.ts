import { defineConfig } from 'vitest/config'
import { prompts } from './prompts.config.ts'

export default defineConfig({
  plugins: [prompts()],
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
})
