// Loaded before the command: a run that asks for a heavy package ends with an error.
import { registerHooks } from 'node:module';

registerHooks({
  resolve(specifier, context, next) {
    if (/^(astro|sharp|pdf-lib|fontkit|vite)(\/|$)/.test(specifier)) throw new Error(`"${specifier}" is too heavy for this command`);
    return next(specifier, context);
  },
});
