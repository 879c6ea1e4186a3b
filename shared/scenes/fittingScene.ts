/** Several scenes under one name: each state is shown by the one that fits it. */
import type { Scene, State } from "../lesson.ts";

export const fittingScene = <I, O>(title: string, fitting: (state: State<I, O>) => Scene<I, O>): Scene<I, O> => ({
  title,
  duration: (state) => fitting(state).duration(state),
  touch: (state) => fitting(state).touch?.(state) ?? 0,
  draw: (state, ...rest) => fitting(state).draw(state, ...rest),
  describe: (state, ...rest) => fitting(state).describe(state, ...rest),
});
