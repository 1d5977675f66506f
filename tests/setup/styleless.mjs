// A hook of Node's loader: what a pane looks like is nothing that these tests see.
export const load = (url, context, next) =>
  url.endsWith('.css') ? { format: 'module', source: '', shortCircuit: true } : next(url, context);
