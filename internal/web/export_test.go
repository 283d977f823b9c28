package web

// QRPicture lets tests read the picture of a link.
var QRPicture = qrPicture
