/** The frame of the page. */
export const page = {
  itemKeys: 'Arrow keys move it, Shift and arrow keys turn it, Space holds or frees it, Escape takes back.',
}
