/** Tells electron-builder that nothing of node_modules goes into the package. */
export default () => false;
