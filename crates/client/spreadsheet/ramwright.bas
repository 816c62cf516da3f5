Attribute VB_Name = "Ramwright"
' Ramwright for Excel: answers the table of enquiries on the active sheet.
'
' The table begins in A1. Its head names the parameters of {{address}}/v1/quick/ram-set, as in
'   note | load_t | points | travel_mm | clearance_mm
' and each row under it is one enquiry. The answers are written beside it, from the column "status" on.
' RamwrightBatch sends the whole table at once, RamwrightRows one row after another.
' No JSON is read, and no reference has to be set: the answer is CSV without quotes.
' Results do not replace local codes, the maker's data or a competent engineer. Never work under a load held by oil alone.
Option Explicit

Private Const ADDRESS As String = "{{address}}"
Private Const ENQUIRY As String = "ram-set" ' or load-share, verification, packing-lifts
' A sheet with your own rams from A1, with the heads of the workbook's sheet "Catalogue"; they go along with each request.
Private Const CATALOGUE_SHEET As String = ""
Private Const BOUNDARY As String = "ramwright-3f1c9a7e52d84b06"
Private Const TIMEOUT_MS As Long = 600000

Public Sub RamwrightBatch()
    Dim sheet As Worksheet, rows As Long, columns As Long, row As Long, body As String, failed As Long
    Set sheet = ActiveSheet
    MeasureTable sheet, rows, columns
    If rows < 2 Then MsgBox "There is no table in A1.": Exit Sub
    For row = 1 To rows
        body = body & CsvLine(sheet, row, columns)
    Next row
    Application.StatusBar = "Ramwright: " & (rows - 1) & " rows sent"
    Dim lines() As String, answer As String
    answer = Post(body, OwnRams())
    If IsRefused(answer) Then
        Application.StatusBar = False
        MsgBox answer
        Exit Sub
    End If
    lines = Split(answer, vbCrLf)
    If UBound(lines) < rows Then
        Application.StatusBar = False
        MsgBox "The answer broke off after " & UBound(lines) & " lines; nothing was written."
        Exit Sub
    End If
    For row = 1 To rows
        failed = failed + WriteLine(sheet, row, columns, lines(0), lines(row - 1))
    Next row
    Application.StatusBar = False
    MsgBox (rows - 1) & " rows, " & failed & " with a problem."
End Sub

Public Sub RamwrightRows()
    Dim sheet As Worksheet, rows As Long, columns As Long, row As Long, failed As Long
    Dim head As String, lines() As String, answer As String
    Set sheet = ActiveSheet
    MeasureTable sheet, rows, columns
    If rows < 2 Then MsgBox "There is no table in A1.": Exit Sub
    head = CsvLine(sheet, 1, columns)
    Dim rams As String
    rams = OwnRams()
    For row = 2 To rows
        Application.StatusBar = "Ramwright: row " & (row - 1) & " of " & (rows - 1) & ", " & failed & " with a problem"
        DoEvents
        answer = Post(head & CsvLine(sheet, row, columns), rams)
        lines = Split(answer, vbCrLf)
        If IsRefused(answer) Or UBound(lines) < 2 Then
            MarkRow sheet, row, columns, answer
            failed = failed + 1
        Else
            WriteLine sheet, 1, columns, lines(0), lines(0)
            failed = failed + WriteLine(sheet, row, columns, lines(0), lines(1))
        End If
    Next row
    Application.StatusBar = False
    MsgBox (rows - 1) & " rows, " & failed & " with a problem."
End Sub

' Rows with the head, and columns up to that of an earlier answer.
Private Sub MeasureTable(sheet As Worksheet, rows As Long, columns As Long)
    Dim region As Range
    Set region = sheet.Range("A1").CurrentRegion
    rows = region.Rows.Count
    columns = 0
    Do While columns < region.Columns.Count
        If LCase$(Trim$(CStr(sheet.Cells(1, columns + 1).Value))) = "status" Then Exit Do
        columns = columns + 1
    Loop
    If columns = 0 Then rows = 0
End Sub

Private Function CsvLine(sheet As Worksheet, row As Long, columns As Long) As String
    Dim column As Long, line As String
    For column = 1 To columns
        If column > 1 Then line = line & ","
        line = line & """" & Replace(CellText(sheet.Cells(row, column).Value), """", """""") & """"
    Next column
    CsvLine = line & vbCrLf
End Function

' Numbers with a decimal point, whatever the country's settings are.
Private Function CellText(value As Variant) As String
    Select Case VarType(value)
        Case vbInteger, vbLong, vbSingle, vbDouble, vbCurrency, vbDecimal
            CellText = Trim$(Str$(value))
        Case vbError
            CellText = "#error in the sheet"
        Case vbEmpty, vbNull
            CellText = ""
        Case Else
            CellText = CStr(value)
    End Select
End Function

' The own rams as CSV; nothing if there are none.
Private Function OwnRams() As String
    Dim sheet As Worksheet, rows As Long, columns As Long, row As Long, text As String
    If CATALOGUE_SHEET = "" Then Exit Function
    Set sheet = ActiveWorkbook.Worksheets(CATALOGUE_SHEET)
    MeasureTable sheet, rows, columns
    For row = 1 To rows
        text = text & CsvLine(sheet, row, columns)
    Next row
    OwnRams = text
End Function

Private Function FormPart(name As String, text As String) As String
    FormPart = "--" & BOUNDARY & vbCrLf & "Content-Disposition: form-data; name=""" & name & """" & vbCrLf & vbCrLf & text & vbCrLf
End Function

' A refusal of the whole, or what went wrong on the way.
Private Function IsRefused(answer As String) As Boolean
    IsRefused = Left$(answer, 6) = "#ERROR"
End Function

Private Function Post(table As String, rams As String) As String
    On Error GoTo failed
    Dim request As Object, answer As String, body As String, kind As String
    body = table
    kind = "text/csv; charset=utf-8"
    If CATALOGUE_SHEET <> "" Then
        body = FormPart("table", table) & FormPart("rams", rams) & "--" & BOUNDARY & "--" & vbCrLf
        kind = "multipart/form-data; boundary=" & BOUNDARY
    End If
    Set request = CreateObject("WinHttp.WinHttpRequest.5.1")
    request.SetTimeouts 10000, 10000, 30000, TIMEOUT_MS
    request.Open "POST", ADDRESS & "/v1/quick/" & ENQUIRY & "?dialect=plain&errors=cell", False
    request.SetRequestHeader "Content-Type", kind
    request.SetRequestHeader "Cache-Control", "no-cache"
    request.Send Utf8(body)
    If request.Status <> 200 Then
        answer = "#ERROR: the service answered " & request.Status & " " & request.StatusText
    Else
        answer = request.ResponseText
    End If
    Post = answer
    Exit Function
failed:
    Post = "#ERROR: no answer from " & ADDRESS & ": " & Err.Description
End Function

Private Function Utf8(text As String) As Variant
    Dim stream As Object
    Set stream = CreateObject("ADODB.Stream")
    stream.Type = 2
    stream.Charset = "utf-8"
    stream.Open
    stream.WriteText text
    stream.Position = 0
    stream.Type = 1
    stream.Position = 3 ' after the byte-order mark
    Utf8 = stream.Read
    stream.Close
End Function

' Writes the answer's own columns of one line; 1 if the row has a problem.
Private Function WriteLine(sheet As Worksheet, row As Long, columns As Long, head As String, line As String) As Long
    Dim heads() As String, cells() As String, first As Long, at As Long
    heads = Split(head, ",")
    cells = Split(line, ",")
    For first = 0 To UBound(heads)
        If heads(first) = "status" Then Exit For
    Next first
    For at = first To UBound(cells)
        With sheet.Cells(row, columns + 1 + at - first)
            If IsPlainNumber(cells(at)) Then
                .Value = Val(cells(at))
            Else
                .NumberFormat = "@"
                .Value = cells(at)
            End If
        End With
    Next at
    sheet.Cells(row, columns + 1).Interior.ColorIndex = xlColorIndexNone
    If row > 1 And first <= UBound(cells) Then
        If cells(first) = "problem" Then
            sheet.Cells(row, columns + 1).Interior.Color = RGB(255, 199, 206)
            WriteLine = 1
        End If
    End If
End Function

Private Sub MarkRow(sheet As Worksheet, row As Long, columns As Long, message As String)
    sheet.Cells(row, columns + 1).Value = "problem"
    sheet.Cells(row, columns + 1).Interior.Color = RGB(255, 199, 206)
    sheet.Range(sheet.Cells(row, columns + 3), sheet.Cells(row, columns + 16)).ClearContents
    sheet.Cells(row, columns + 2).NumberFormat = "@"
    sheet.Cells(row, columns + 2).Value = message
End Sub

' Digits with at most one point, a sign only in front or after the exponent's letter: 0.1.0 and 3-4 are none.
Private Function IsPlainNumber(text As String) As Boolean
    Dim i As Long, digits As Long, points As Long, letters As Long, one As String, before As String
    IsPlainNumber = False
    For i = 1 To Len(text)
        one = Mid$(text, i, 1)
        Select Case one
            Case "0" To "9"
                digits = digits + 1
            Case "."
                points = points + 1
            Case "e", "E"
                letters = letters + 1
                If digits = 0 Then Exit Function
            Case "+", "-"
                If before <> "" And before <> "e" And before <> "E" Then Exit Function
            Case Else
                Exit Function
        End Select
        before = one
    Next i
    IsPlainNumber = digits > 0 And points <= 1 And letters <= 1
End Function
