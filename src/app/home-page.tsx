import { Hono } from 'hono'
import { Home } from '../pages/home'
import { questions } from '../questions/registry'

/** `GET /`: what can be asked. */
export const homePage = new Hono()

homePage.get('/', (context) => context.html(<Home questions={questions} />))
