import { Layout } from '../pages/layout'
import type { Device } from './device-book'
import { say } from './words'

/** The devices that are let in, each with the button that shuts it out. */
export const DevicesPage = ({ devices, own }: { devices: readonly Device[]; own: string }) => (
  <Layout title={say('devices.title')}>
    <h1>{say('devices.title')}</h1>
    <p>{say('devices.how')}</p>
    {devices.map((device) => (
      <section aria-labelledby={`device-${device.id}`}>
        <h2 id={`device-${device.id}`}>
          {device.name}
          {device.id === own ? ` ${say('devices.this')}` : ''}
        </h2>
        <p>
          {say('devices.paired', { day: device.pairedAt.slice(0, 10) })}{' '}
          {say('devices.used', { day: device.usedOn })}
        </p>
        <form method="post" action={`/devices/${device.id}/revoke`}>
          <button class="quiet" type="submit">
            {device.id === own ? say('devices.leave') : say('devices.revoke', { name: device.name })}
          </button>
        </form>
      </section>
    ))}
  </Layout>
)
