declare module "*.txt" {
  const text: string;
  export default text;
}
declare module "*.png" {
  const bytes: Uint8Array<ArrayBuffer>;
  export default bytes;
}
declare module "*.jpg" {
  const bytes: Uint8Array<ArrayBuffer>;
  export default bytes;
}
