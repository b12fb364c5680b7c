import { html } from 'hono/html'
import type { PropsWithChildren } from 'hono/jsx'
import { version } from './version'

type LayoutProps = PropsWithChildren<{
  title: string
  /** A page for whoever has nothing but a link to it: it leads to no other, and keeps nothing on the phone. */
  alone?: boolean
}>

/**
 * What every page stands in: one column, the style, the small script that a page can do without. That script writes
 * into `attention` and `kept` what a phone has to say about itself.
 */
export const Layout = ({ title, alone = false, children }: LayoutProps) =>
  html`<!doctype html>${(
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="color-scheme" content="light dark" />
        <title>{title}</title>
        <link rel="stylesheet" href="/style.css" />
        <link rel="icon" href="/icon.svg" type="image/svg+xml" />
        {alone ? null : (
          <>
            <link rel="manifest" href="/manifest.webmanifest" />
            <link rel="apple-touch-icon" href="/icons/ladderside-180.png" />
            <script src="/page.js" type="module" />
          </>
        )}
      </head>
      <body>
        <a class="skip" href="#main">
          Skip to the content
        </a>
        <header class="top">
          {alone ? (
            <span class="home">Ladderside</span>
          ) : (
            <>
              <a href="/" class="home">
                Ladderside
              </a>
              <a href="/jobs" class="plain">
                Jobs
              </a>
            </>
          )}
        </header>
        <div id="attention" class="attention" role="status" />
        <main id="main" tabindex={-1}>
          {children}
        </main>
        <footer class="foot">
          <p>
            Ladderside {version} <span id="kept" />
          </p>
        </footer>
      </body>
    </html>
  )}`
