import * as z from 'zod/mini'
import manifestWords from '../../prompts/en/manifest.yaml'
import { readPrompts } from '../questions/common/words'

const words = readPrompts(manifestWords, z.strictObject({ name: z.string(), description: z.string() }))

const icon = (size: number, purpose: 'any' | 'maskable') => ({
  src: `/icons/ladderside-${size}.png`,
  sizes: `${size}x${size}`,
  type: 'image/png',
  purpose,
})

/** `GET /manifest.webmanifest`: what a phone needs to put the app on its home screen (W3C, Web Application Manifest). */
export const manifest = {
  id: '/',
  name: words.name,
  short_name: words.name,
  description: words.description,
  lang: 'en',
  start_url: '/',
  scope: '/',
  display: 'standalone',
  // The paper of the style; the sign stands far enough inside for any mask.
  background_color: '#faf6ea',
  theme_color: '#faf6ea',
  icons: [192, 512].flatMap((size) => [icon(size, 'any'), icon(size, 'maskable')]),
}
