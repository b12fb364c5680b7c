import type { Answer } from '../questions/common/answer'

type Data = NonNullable<Answer['picture']>

/** The drawing of each kind of picture; a kind without one is not drawn. */
const drawings: Readonly<Record<string, (props: { data: never }) => unknown>> = {}

export const Picture = ({ picture }: { picture: Data }) => {
  const Drawing = drawings[picture.kind] as
    | ((props: { data: unknown }) => ReturnType<typeof Fragment>)
    | undefined
  return Drawing ? <Drawing data={picture.data} /> : null
}

const Fragment = ({ data: _ }: { data: unknown }) => <></>
