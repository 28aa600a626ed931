# The Debian package: cmake --build build --target package. It holds what install() names and, in the component `debian`, what only a package
# has; beside it lies the list of all that is linked into it (sbom.py).
foreach(unit watch/service/layright.service desk/service/layright-desk.service)
  get_filename_component(unit_name ${unit} NAME)
  install(CODE "
  file(READ ${PROJECT_SOURCE_DIR}/src/${unit} unit)
  string(REPLACE /usr/ \${CMAKE_INSTALL_PREFIX}/ unit \"\${unit}\")
  file(WRITE \$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/lib/systemd/system/${unit_name} \"\${unit}\")")
endforeach()

set(package ${PROJECT_BINARY_DIR}/package)
set(start ${package}/layright.toml)
add_custom_command(OUTPUT ${start}
  COMMAND ${CMAKE_COMMAND} -E make_directory ${package}
  COMMAND layright init --force -o ${start}
  COMMAND ${CMAKE_COMMAND} -E cat ${CMAKE_CURRENT_LIST_DIR}/copyright.head ${PROJECT_SOURCE_DIR}/LICENSE > ${package}/copyright
  DEPENDS layright ${CMAKE_CURRENT_LIST_DIR}/copyright.head ${PROJECT_SOURCE_DIR}/LICENSE)
add_custom_target(package_texts ALL DEPENDS ${start})

set(documents /usr/share/doc/layright)
install(FILES ${start} DESTINATION /etc/layright COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES ${package}/copyright ${CMAKE_CURRENT_LIST_DIR}/changelog DESTINATION ${documents} COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES README.md src/DESIGN.md DESTINATION ${documents} COMPONENT debian EXCLUDE_FROM_ALL)
install(FILES examples/layright.toml DESTINATION ${documents}/examples COMPONENT debian EXCLUDE_FROM_ALL)
install(DIRECTORY testfiles/press DESTINATION ${documents}/examples/testfiles COMPONENT debian EXCLUDE_FROM_ALL)
install(DIRECTORY examples/art DESTINATION ${documents}/examples COMPONENT debian EXCLUDE_FROM_ALL)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME layright)
set(CPACK_PACKAGE_CONTACT "layright maintainers <maintainers@layright.invalid>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_INSTALL_CMAKE_PROJECTS "${PROJECT_BINARY_DIR};layright;ALL;/;${PROJECT_BINARY_DIR};layright;debian;/")
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_STRIP_FILES ON)
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/finish.cmake)
set(CPACK_POST_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/list_parts.cmake)
set(CPACK_LAYRIGHT_BUILD ${PROJECT_BINARY_DIR})
set(CPACK_LAYRIGHT_SBOM ${CMAKE_CURRENT_LIST_DIR}/sbom.py)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION graphics)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "lays customers' art on sheets of laser transfer film
Takes a customer's file, says what does not suit the sheet, writes a PDF of
the sheet's size with the art inside its margin and reversed exactly once,
and makes the page setup for the press and the operator's job sheet. Works
on files that are named, and unattended on files that land in a folder.")
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS_PRIVATE_DIRS ${PROJECT_BINARY_DIR}/lib/layright)
# What no linker sees: readers of drawings, the reader of letters (loaded when asked for) and its data, fonts for our own pages.
set(CPACK_DEBIAN_PACKAGE_DEPENDS "adduser, ghostscript, librsvg2-bin, libtesseract5, tesseract-ocr-eng, tesseract-ocr-ell, tesseract-ocr-rus, fonts-dejavu-core, fonts-droid-fallback")
set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "cups-client")
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_EXTRA
  ${CMAKE_CURRENT_LIST_DIR}/postinst ${CMAKE_CURRENT_LIST_DIR}/prerm ${CMAKE_CURRENT_LIST_DIR}/postrm ${CMAKE_CURRENT_LIST_DIR}/conffiles)
include(CPack)
